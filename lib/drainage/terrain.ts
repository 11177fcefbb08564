import { assert, throwIfCancelled, type Progress } from '../errors';
import { labelCatchments } from './catchments';
import { buildLowSpotTree, type LowSpotTree } from './low-spot-tree';
import { neighbourOffsets } from './neighbours';
import { findPasses } from './passes';
import { steepestDescent } from './steepest-descent';
import { lowSpotVolumes, type LowSpotVolumes } from './volumes';
import { Workspace } from './workspace';

/**
 * What the shape of the ground alone says about water. Arrays belong to the workspace that the
 * terrain was built with: the next build with the same workspace overwrites them.
 *
 * A catchment is the area that drains to one pit by single flow; catchment 0 drains off the map.
 * The map's border cells, and cells beside one without data, drain off the map.
 */
export interface Terrain extends LowSpotVolumes {
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
  /** Height of standing water in each catchment when every low spot is full; `pits + 1` elements, 0 for catchment 0. */
  readonly fillLevel: Float32Array;
  /** Heights with every low spot filled to its spill level, `NaN` for no data. */
  readonly filled: Float32Array;
  /** Where later stages find their buffers. */
  readonly workspace: Workspace;
}

export interface TerrainOptions {
  readonly workspace?: Workspace;
  /** Checked between stages. */
  readonly signal?: AbortSignal;
  readonly onProgress?: Progress;
}

/**
 * Finds receivers, catchments, the tree of low spots with their volumes, and the filled surface.
 *
 * The filled surface equals the morphological reconstruction by erosion of the ground from its
 * border, bit for bit.
 *
 * @param z - heights, at least 1, `width * height` values, row 0 the northern one; `NaN` for no data. Kept, not copied.
 * @throws {Cancelled}
 * Cost: O(n) but for a near-constant factor; about 20 bytes a cell beside `z`.
 */
export function buildTerrain(
  z: Float32Array,
  width: number,
  height: number,
  options: TerrainOptions = {},
): Terrain {
  assert(z.length === width * height && z.length > 0, 'a terrain needs width * height heights');
  const { workspace = new Workspace(), signal, onProgress } = options;
  const size = z.length;
  const receiver = workspace.uint8('receiver', size);
  const catchment = workspace.int32('catchment', size);
  const filled = workspace.float32('filled', size);
  const lower = workspace.uint8('cell bytes', size);
  // The filled surface comes last: until then its buffer holds lists of cells.
  const cellLists = new Int32Array(filled.buffer, filled.byteOffset, size);

  onProgress?.(0, 'Finding where each cell drains');
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
  throwIfCancelled(signal);
  onProgress?.(0.3, 'Finding catchments');
  labelCatchments(receiver, neighbourOffsets(width), catchment);
  throwIfCancelled(signal);
  onProgress?.(0.5, 'Finding low spots');
  const pitCells = workspace.int32('pit cells', counts.pits + 1);
  pitCells[0] = -1;
  for (let pit = 1; pit <= counts.pits; pit++) pitCells[pit] = cellLists[size - pit];
  const passCells = cellLists.subarray(0, counts.passCells);
  const passes = findPasses(z, width, height, receiver, lower, catchment, passCells, workspace);
  const tree = buildLowSpotTree(passes, pitCells, workspace);
  throwIfCancelled(signal);
  onProgress?.(0.7, 'Filling low spots');
  const fillLevel = workspace.float32('fill level', counts.pits + 1);
  fillLevel[0] = 0;
  for (let pit = 1; pit <= counts.pits; pit++) fillLevel[pit] = tree.spill[tree.root[pit]];
  fill(z, catchment, fillLevel, filled);
  throwIfCancelled(signal);
  onProgress?.(0.8, 'Measuring low spots');
  const volumes = lowSpotVolumes(z, catchment, fillLevel, tree, workspace);
  onProgress?.(1, 'Measuring low spots');
  return {
    width,
    height,
    z,
    outside: counts.outside,
    receiver,
    catchment,
    tree,
    fillLevel,
    filled,
    workspace,
    ...volumes,
  };
}

function fill(
  z: Float32Array,
  catchment: Int32Array,
  fillLevel: Float32Array,
  filled: Float32Array,
): void {
  for (let i = 0; i < z.length; i++) filled[i] = Math.max(z[i], fillLevel[catchment[i]]);
}
