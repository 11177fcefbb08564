import { cellCentre, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { contains, distanceM, nearest, type LineShape, type Ring } from '../frame/shapes';
import { cellsAlong, cellsAround } from './rasterise';

/** A basin as it is to be built, in local metres. */
export interface BasinShape {
  readonly id: string;
  /** The rim: the inner top edge of the bowl. */
  readonly rim: Ring;
  /** Depth of water on the floor when it starts to overflow, metres. */
  readonly pondingDepthM: number;
  /** Run of the bowl's sides for one of rise. */
  readonly sideSlope: number;
  /** Where water is to leave, anywhere near the rim; the lowest ground along the rim when not given. */
  readonly overflow?: XY;
}

/** What building a basin does to the ground. Elevations are in metres above the grid's datum. */
export interface BasinForm {
  readonly id: string;
  /** Cells inside the rim. */
  readonly cells: Int32Array<ArrayBuffer>;
  readonly rimM: number;
  readonly overflowM: number;
  readonly floorM: number;
  /** The notch in the rim, local metres. */
  readonly overflowAt: XY;
  /** Ground taken away and ground added to shape bowl and berm, m3 in place; layers are not part of it. */
  readonly cutM3: number;
  readonly fillM3: number;
}

/** Height of the rim over the overflow. Common practice, no source; Western Washington's handbook asks 0.15 m. */
export const freeboardM = 0.05;
/** Width of the berm's level top: about 12 in (homeowner manual of the University of Wisconsin, from memory). */
export const bermTopM = 0.3;
/** Half the width of the overflow notch. Common practice, no source. */
export const notchHalfWidthM = 0.5;

/**
 * Cuts a basin into the ground: a bowl with sloping sides and level floor, a level rim with a berm where the
 * ground is lower, and a notch where water leaves.
 *
 * The rim is set at the mean of the ground along it, so that what is dug on the high side about makes the berm on the
 * low side. Ground above the rim outside is left as it is, and water runs in over it.
 *
 * @param grid - the ground before; not modified.
 * @param z - heights to change in place, of the same shape as `grid.z`.
 * @returns the form, or `null` when no cell lies inside the rim or the rim leaves the data.
 */
export function cutBasin(grid: Grid, z: Float32Array, basin: BasinShape): BasinForm | null {
  const rim: LineShape = { type: 'line', points: [...basin.rim, basin.rim[0]] };
  const onRimNearest = (at: XY): XY => nearest({ type: 'point', at }, rim).to;
  const rimCells = cellsAlong(grid, rim.points);
  let rimM = 0;
  for (const cell of rimCells) rimM += grid.z[cell] / rimCells.length;
  if (rimCells.length === 0 || Number.isNaN(rimM)) return null;

  const overflowAt =
    basin.overflow === undefined ? lowestAlong(grid, rimCells) : onRimNearest(basin.overflow);
  const overflowM = rimM - freeboardM;
  const floorM = overflowM - basin.pondingDepthM;
  const onRim = new Set(rimCells);
  const inside: number[] = [];
  let cut = 0;
  let fill = 0;
  for (const cell of cellsAround(grid, basin.rim, reachOutside(grid, rimCells, rimM, basin))) {
    const before = z[cell];
    if (Number.isNaN(before)) continue;
    const centre = cellCentre(grid, cell);
    const onEdge = onRimNearest(centre);
    const away = distanceM(onEdge, centre);
    const within = contains([basin.rim], centre);
    if (within) inside.push(cell);
    let after: number;
    if (within && !onRim.has(cell)) {
      after = Math.max(floorM, rimM - away / basin.sideSlope);
    } else {
      // The rim and its berm: never lower than the ground, level on top, sloping off outside.
      const slopeStart = onRim.has(cell) ? 0 : Math.max(0, away - bermTopM);
      after = Math.max(before, rimM - slopeStart / basin.sideSlope);
      if (distanceM(onEdge, overflowAt) <= notchHalfWidthM) after = Math.min(after, overflowM);
    }
    cut += Math.max(0, before - after);
    fill += Math.max(0, after - before);
    z[cell] = after;
  }
  if (inside.length === 0) return null;
  const cellM2 = grid.cellM * grid.cellM;
  return {
    id: basin.id,
    cells: Int32Array.from(inside),
    rimM,
    overflowM,
    floorM,
    overflowAt,
    cutM3: cut * cellM2,
    fillM3: fill * cellM2,
  };
}

function lowestAlong(grid: Grid, cells: Int32Array): XY {
  let lowest = cells[0];
  for (const cell of cells) if (grid.z[cell] < grid.z[lowest]) lowest = cell;
  return cellCentre(grid, lowest);
}

/** How far outside the rim the berm's outer slope can reach before it meets the lowest ground, metres. */
function reachOutside(grid: Grid, rimCells: Int32Array, rimM: number, basin: BasinShape): number {
  let lowest = rimM;
  for (const cell of rimCells) lowest = Math.min(lowest, grid.z[cell]);
  return bermTopM + 2 * (rimM - lowest) * basin.sideSlope + 2 * grid.cellM;
}
