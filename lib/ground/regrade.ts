import { cellCentre, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { centroid, distanceM, nearestOnSegment, type Rings } from '../frame/shapes';
import { CountedEdits, unmoved, type Edit } from './edit';
import { heightAt } from './height-at';
import { cellsAround, cellsInside } from './rasterise';

/** Ground to be graded to a plane, in local metres. */
export interface RegradeShape {
  readonly id: string;
  readonly rings: Rings;
  /** Height of the centre in the unit of the grid; the ground's own when not given. */
  readonly centreM?: number;
  /** Fall for one of run; level when not given. */
  readonly slope?: number;
  /** Unit vector to where it falls, when it does. */
  readonly fallsTo?: XY;
  /** Run of the bank around it for one of rise. */
  readonly sideSlope: number;
}

/** Run of a graded place's bank for one of rise, where the plan gives none. Common practice, no source. */
export const regradeSideSlope = 3;

/**
 * Grades a polygon to a plane and runs a bank out from its edge until it meets the ground.
 *
 * Level at the given height, or sloping through the centre. With neither height nor slope it is levelled at the mean of the
 * ground inside, so that cut and fill are equal there. Sloping without a height keeps the ground's height at the centre.
 *
 * @param grid - the ground so far; `grid.z` is changed in place.
 * Limits: on ground steeper than the bank, the bank ends with a step where level ground would have let it end twice over.
 */
export function regrade(grid: Grid, shape: RegradeShape): Edit {
  const { id, rings, slope = 0, sideSlope } = shape;
  if (slope > 0 && shape.fallsTo === undefined) {
    return unmoved(id, 'regrade', [
      'Not graded: it has a slope but no bearing to say where it falls to.',
    ]);
  }
  const inside = cellsInside(grid, rings);
  const centre = centroid(rings);
  const centreM =
    shape.centreM ?? (slope > 0 ? heightAt(grid, centre) : meanHeight(grid.z, inside));
  if (Number.isNaN(centreM)) {
    return unmoved(id, 'regrade', ['Not graded: there is no elevation data at it.']);
  }
  const [east, north] = shape.fallsTo ?? [0, 0];
  const planeM = ([x, y]: XY): number =>
    centreM - slope * ((x - centre[0]) * east + (y - centre[1]) * north);

  const earth = new CountedEdits(grid.z, grid.cellM * grid.cellM);
  const reachM = bankReach(grid, inside, planeM, sideSlope);
  const isInside = new Set(inside);
  for (const cell of inside) earth.set(cell, planeM(cellCentre(grid, cell)));
  for (const cell of sideSlope > 0 ? cellsAround(grid, rings[0], reachM) : []) {
    if (isInside.has(cell)) continue;
    const at = cellCentre(grid, cell);
    const edge = nearestOnRings(rings, at);
    const away = distanceM(edge, at);
    if (away > reachM) continue;
    const edgeM = planeM(edge);
    const before = grid.z[cell];
    const after = Math.min(Math.max(before, edgeM - away / sideSlope), edgeM + away / sideSlope);
    if (after !== before) earth.set(cell, after);
  }
  return earth.edit(id, 'regrade');
}

function meanHeight(z: Float32Array, cells: Int32Array): number {
  let sum = 0;
  let count = 0;
  for (const cell of cells) {
    if (Number.isNaN(z[cell])) continue;
    sum += z[cell];
    count++;
  }
  return sum / count;
}

/** How far a bank can reach: twice what the greatest difference inside asks on level ground. */
function bankReach(
  grid: Grid,
  inside: Int32Array,
  planeM: (at: XY) => number,
  sideSlope: number,
): number {
  let most = 0;
  for (const cell of inside) {
    const difference = Math.abs(grid.z[cell] - planeM(cellCentre(grid, cell)));
    if (difference > most) most = difference;
  }
  return 2 * most * sideSlope + grid.cellM;
}

function nearestOnRings(rings: Rings, at: XY): XY {
  let best: XY = rings[0][0];
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const near = nearestOnSegment(at, ring[j], ring[i]);
      if (distanceM(near, at) < distanceM(best, at)) best = near;
    }
  }
  return best;
}
