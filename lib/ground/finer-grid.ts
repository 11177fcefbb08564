import type { Grid } from '../elevation/grid';
import type { Bounds } from '../frame/shapes';
import { heightAt } from './height-at';

/**
 * Part of a grid in finer cells: heights interpolated between cell centres, as `heightAt` has them.
 *
 * @param within - local metres; grown to whole cells.
 * @param cellM - side of a new cell.
 * @param liftM - added to every height and taken off the datum, so that what is dug stays positive.
 * @returns cells outside the grid are `NaN`.
 */
export function finerGrid(grid: Grid, within: Bounds, cellM: number, liftM = 0): Grid {
  const column = Math.floor((within.west - grid.westM) / cellM);
  const row = Math.floor((grid.northM - within.north) / cellM);
  const westM = grid.westM + column * cellM;
  const northM = grid.northM - row * cellM;
  const width = Math.max(1, Math.ceil((within.east - westM) / cellM));
  const height = Math.max(1, Math.ceil((northM - within.south) / cellM));
  const z = new Float32Array(width * height);
  for (let r = 0, i = 0; r < height; r++) {
    const y = northM - (r + 0.5) * cellM;
    for (let c = 0; c < width; c++, i++) {
      z[i] = heightAt(grid, [westM + (c + 0.5) * cellM, y]) + liftM;
    }
  }
  return { width, height, cellM, westM, northM, z, datumM: grid.datumM - liftM, frame: grid.frame };
}
