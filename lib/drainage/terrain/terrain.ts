import { expectOf } from '../../errors';
import { inGivenHeights, rescaled } from './any-heights';
import { labelCatchments } from './catchments';
import { buildLowSpotTree, type LowSpotTree } from './low-spot-tree';
import { neighbourOffsets } from './neighbours';
import { findPasses } from './passes';
import { steepestDescent } from './steepest-descent';
import { atOnce, type StepOptions, type Steps } from '../steps';
import { lowSpotVolumes, type LowSpotVolumes } from './volumes';
import { Workspace } from './workspace';

/**
 * What the shape of the ground alone says about water. Arrays belong to the workspace that the
 * terrain was built with: the next build with the same workspace overwrites them.
 *
 * A catchment is the area that drains to one pit by single flow; catchment 0 drains off the map.
 * The map's border cells, and cells beside one without data, drain off the map.
 */
export interface BareTerrain extends LowSpotVolumes {
  readonly width: number;
  readonly height: number;
  /** Heights as given, `NaN` for no data. */
  readonly z: Float32Array;
  /** Number of cells without data. */
  readonly outside: number;
  /** Direction code of the steepest descent on the ground as it is; ends at pits (see neighbours.ts). */
  readonly receiver: Uint8Array;
  /** Number of the catchment for each cell, 0 for what drains off the map and for no data. */
  readonly catchment: Int32Array;
  readonly tree: LowSpotTree;
  /** Height of standing water in each catchment when every low spot is full; `pits + 1` elements, below all heights for catchment 0. */
  readonly fillLevel: Float32Array;
  /** Where later stages find their buffers. */
  readonly workspace: Workspace;
}

/** A terrain with its filled surface, over which water can be routed. */
export interface Terrain extends BareTerrain {
  /** Heights with every low spot filled to its spill level, `NaN` for no data: found when first asked for. */
  readonly filled: Float32Array;
}

export interface TerrainOptions extends StepOptions {
  readonly workspace?: Workspace;
}

/**
 * Finds receivers, catchments, the tree of low spots with their volumes, and the filled surface.
 *
 * The filled surface equals the morphological reconstruction by erosion of the ground from its
 * border, bit for bit.
 *
 * @param z - heights, `width * height` values, row 0 the northern one; `NaN` for no data, infinite ones count as such.
 *   Kept, not copied. Any that are finite: those below 1 are built on a copy, in which heights closer together than a
 *   16-millionth of the relief may count as equal.
 * @throws {InputError} `terrain-size` when there are not as many heights as cells. @throws {Cancelled}
 * Cost: O(n) but for a near-constant factor; about 20 bytes a cell beside `z`.
 */
export function buildTerrain(
  z: Float32Array,
  width: number,
  height: number,
  options: TerrainOptions = {},
): Terrain {
  const other = rescaled(z);
  const built = atOnce(terrainSteps(other ?? z, width, height, options.workspace), options);
  return other === null ? built : inGivenHeights(built, z);
}

/** The steps of `buildTerrain` for heights that are at least 1, as those of grids are. */
export function* terrainSteps(
  z: Float32Array,
  width: number,
  height: number,
  workspace = new Workspace(),
): Steps<Terrain> {
  expectOf(Number.isInteger(width) && width > 0 && width * height === z.length && z.length > 0, {
    code: 'terrain-size',
    where: 'terrain',
    problem: `${z.length} heights are given for ${width} by ${height} cells`,
    remedy: 'give one height for each cell, row by row',
  });
  const size = z.length;
  const receiver = workspace.uint8('receiver', size);
  const catchment = workspace.int32('catchment', size);
  const lower = workspace.uint8('cell bytes', size);
  // The filled surface comes last, if at all: until then its buffer holds lists of cells.
  const filledCells = workspace.float32('filled', size);
  const cellLists = new Int32Array(filledCells.buffer, filledCells.byteOffset, size);

  yield { fraction: 0, stage: 'Finding where each cell drains' };
  const counts = steepestDescent(
    z,
    width,
    height,
    workspace,
    receiver,
    lower,
    catchment,
    cellLists,
  );
  yield { fraction: 0.3, stage: 'Finding catchments' };
  labelCatchments(receiver, neighbourOffsets(width), catchment);
  yield { fraction: 0.45, stage: 'Finding low spots' };
  const pitCells = workspace.int32('pit cells', counts.pits + 1);
  pitCells[0] = -1;
  for (let pit = 1; pit <= counts.pits; pit++) pitCells[pit] = cellLists[size - pit];
  const passCells = cellLists.subarray(0, counts.passCells);
  const passes = findPasses(z, width, height, receiver, lower, catchment, passCells, workspace);
  const tree = buildLowSpotTree(passes, pitCells, workspace);
  yield { fraction: 0.8, stage: 'Measuring low spots' };
  const fillLevel = workspace.float32('fill level', counts.pits + 1);
  fillLevel[0] = 0;
  for (let pit = 1; pit <= counts.pits; pit++) fillLevel[pit] = tree.spill[tree.root[pit]];
  const volumes = lowSpotVolumes(z, catchment, fillLevel, tree, workspace);
  yield { fraction: 1, stage: 'Measuring low spots' };
  let filled: Float32Array | null = null;
  return {
    width,
    height,
    z,
    outside: counts.outside,
    receiver,
    catchment,
    tree,
    fillLevel,
    workspace,
    ...volumes,
    get filled() {
      filled ??= fill(z, catchment, fillLevel, workspace.float32('filled', size));
      return filled;
    },
  };
}

function fill(
  z: Float32Array,
  catchment: Int32Array,
  fillLevel: Float32Array,
  filled: Float32Array,
): Float32Array {
  for (let i = 0; i < z.length; i++) filled[i] = Math.max(z[i], fillLevel[catchment[i]]);
  return filled;
}
