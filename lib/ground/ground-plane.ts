import type { Grid } from '../elevation/grid';
import { boundsOf, type Ring } from '../frame/shapes';
import { PlaneSums, type GroundPlane } from './plane-sums';
import { cellsAround } from './rasterise';
import { RimDistance } from './rim-distance';

/** Ground this far round the rim counts for the slope at the basin, metres (and a cell and a half). Common practice, no source. */
const slopeAroundM = 1;

/**
 * The least-squares plane of the ground under a basin and close around it: what is called the slope at the basin wherever
 * one is named. Cells count whose centre lies inside the rim or near it.
 *
 * @param grid - the ground before any basin (`groundWithoutBasins`).
 * @returns `null` when fewer than three cells with data lie there, or when they lie in one line: the slope is unknown.
 * Cost: cells around the rim times its edges.
 */
export function groundPlane(grid: Grid, rim: Ring): GroundPlane | null {
  const { cellM, westM, northM, width, z } = grid;
  const aroundM = Math.max(slopeAroundM, 1.5 * cellM);
  const { west, south, east, north } = boundsOf(rim);
  const sums = new PlaneSums((west + east) / 2, (south + north) / 2);
  const distance = new RimDistance(rim);
  for (const cell of cellsAround(grid, rim, aroundM)) {
    if (Number.isNaN(z[cell])) continue;
    const row = Math.floor(cell / width);
    const x = westM + (cell - row * width + 0.5) * cellM;
    const y = northM - (row + 0.5) * cellM;
    distance.look(x, y);
    if (distance.isInside || distance.awayM <= aroundM) sums.add(x, y, z[cell]);
  }
  return sums.fit();
}
