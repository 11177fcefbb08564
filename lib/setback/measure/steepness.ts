import type { Grid } from '../../elevation/grid';

/** How steep the ground is around each cell: the plane fitted over a square window. */
export interface SteepnessMap {
  /** Rise over run for each cell; `NaN` where the window holds no data or lies over the edge. */
  readonly ratio: Float32Array<ArrayBuffer>;
  /** Side of the window, metres. */
  readonly windowM: number;
}

const steepness = new WeakMap<Grid, SteepnessMap>();
/**
 * Side of the window over which steepness is fitted, metres: about a basin's size, so that the roughness of a lidar
 * surface at half a metre does not count as slope. Common practice, no source.
 */
const steepnessWindowM = 5;

/**
 * Steepness of the ground around every cell. Kept for as long as the grid is.
 * Cost: linear in cells (running sums along rows, then columns).
 */
export function steepnessOf(grid: Grid): SteepnessMap {
  const before = steepness.get(grid);
  if (before !== undefined) return before;
  const reach = Math.max(1, Math.round((steepnessWindowM / grid.cellM - 1) / 2));
  const map = { ratio: windowSlopes(grid, reach), windowM: (2 * reach + 1) * grid.cellM };
  steepness.set(grid, map);
  return map;
}

/**
 * Over a full window of offsets -reach..reach the best plane's slopes are sum(dx z) / sum(dx^2) and the same in y,
 * because the offsets are symmetric. Both sums are separable.
 */
function windowSlopes(grid: Grid, reach: number): Float32Array<ArrayBuffer> {
  const { width, height, z, cellM } = grid;
  const rowSum = new Float64Array(z.length).fill(Number.NaN);
  const rowMoment = new Float64Array(z.length).fill(Number.NaN);
  for (let row = 0; row < height; row++) {
    for (let column = reach; column < width - reach; column++) {
      let sum = 0;
      let moment = 0;
      for (let d = -reach; d <= reach; d++) {
        const value = z[row * width + column + d];
        sum += value;
        moment += d * value;
      }
      rowSum[row * width + column] = sum;
      rowMoment[row * width + column] = moment;
    }
  }
  const side = 2 * reach + 1;
  const squares = ((reach * (reach + 1) * (2 * reach + 1)) / 3) * side * cellM;
  const ratio = new Float32Array(z.length).fill(Number.NaN);
  for (let row = reach; row < height - reach; row++) {
    for (let column = 0; column < width; column++) {
      let momentX = 0;
      let momentY = 0;
      for (let d = -reach; d <= reach; d++) {
        const i = (row + d) * width + column;
        momentX += rowMoment[i];
        momentY += d * rowSum[i];
      }
      ratio[row * width + column] = Math.hypot(momentX, momentY) / squares;
    }
  }
  return ratio;
}
