import type { Grid } from '../../elevation/grid';
import { assert } from '../../errors';
import { NormalNumbers } from './normal-numbers';
import type { Workspace } from '../terrain/workspace';

/**
 * Error of an elevation in two independent parts: one that changes from step to step, and one that neighbouring heights share.
 *
 * Each part is Gaussian with mean 0. Its range is the distance along a row or column at which the correlation has fallen
 * to exp(-3), about 0.05.
 */
export interface ErrorModel {
  /** Standard deviation of the short-range part, metres. */
  readonly shortM: number;
  readonly shortRangeM: number;
  /** Standard deviation of the long-range part, metres. */
  readonly longM: number;
  readonly longRangeM: number;
}

/** Correlation of one part of the error between heights `eastM` and `northM` apart: a product of two exponentials. */
export function correlation(rangeM: number, eastM: number, northM: number): number {
  if (rangeM === 0) return eastM === 0 && northM === 0 ? 1 : 0;
  return Math.exp((-3 * (Math.abs(eastM) + Math.abs(northM))) / rangeM);
}

/** Which of the equally likely surfaces is meant. */
export interface Realisation {
  readonly seed: number;
  /** From 0. The surface depends on seed and index alone, not on which were made before. */
  readonly index: number;
}

/** Heights keep clear of the least that kernels take by this many standard deviations. */
const liftSigmas = 8;

/** How far a ground is lifted before errors are added to it, so that no height falls below what kernels take: whole metres. */
export function errorLiftM({ shortM, longM }: ErrorModel): number {
  return Math.ceil(liftSigmas * (shortM + longM));
}

/**
 * Heights with one realisation of their error added.
 *
 * Each part is a first-order autoregression along rows, and of its rows down the columns, begun in its stationary
 * state: variance and correlation are those of the model everywhere, up to the edges.
 *
 * @param grid - heights; not modified. `NaN` stays.
 * @param out - receives the heights, `width * height` values.
 * @param liftM - added to every height, so that none becomes too low for what comes after.
 * Cost: O(n), two normal numbers a cell; allocates nothing once the workspace has its rows.
 */
export function addError(
  grid: Pick<Grid, 'z' | 'width' | 'height' | 'cellM'>,
  errors: ErrorModel,
  { seed, index }: Realisation,
  out: Float32Array,
  workspace: Workspace,
  liftM = 0,
): void {
  const { z, width, height, cellM } = grid;
  assert(out.length === z.length, 'a surface has as many heights as the elevation');
  const normals = new NormalNumbers(seed, index);
  const short = workspace.float32('error short row', width);
  const long = workspace.float32('error long row', width);
  const fresh = workspace.float32('error fresh numbers', 2 * width);
  const shortKeeps = correlation(errors.shortRangeM, cellM, 0);
  const longKeeps = correlation(errors.longRangeM, cellM, 0);
  const shortAdds = Math.sqrt(1 - shortKeeps * shortKeeps);
  const longAdds = Math.sqrt(1 - longKeeps * longKeeps);
  const { shortM, longM } = errors;
  for (let row = 0; row < height; row++) {
    normals.fill(fresh);
    // The first row stands for all those above it, the first column for all to the west: their variance is whole.
    const shortBefore = row === 0 ? 0 : shortKeeps;
    const longBefore = row === 0 ? 0 : longKeeps;
    const shortNew = row === 0 ? 1 : shortAdds;
    const longNew = row === 0 ? 1 : longAdds;
    let shortAlong = fresh[0];
    let longAlong = fresh[width];
    for (let column = 0, at = row * width; column < width; column++, at++) {
      if (column > 0) {
        shortAlong = shortKeeps * shortAlong + shortAdds * fresh[column];
        longAlong = longKeeps * longAlong + longAdds * fresh[width + column];
      }
      const s = shortBefore * short[column] + shortNew * shortAlong;
      const l = longBefore * long[column] + longNew * longAlong;
      short[column] = s;
      long[column] = l;
      out[at] = z[at] + liftM + shortM * s + longM * l;
    }
  }
}

/** An elevation with the heights that `addError` gave it. */
export function shakenGrid(
  from: Grid,
  { shortM, longM }: ErrorModel,
  z: Float32Array,
  liftM: number,
): Grid {
  return {
    ...from,
    z,
    datumM: from.datumM - liftM,
    shaken: { from, rmseM: Math.hypot(shortM, longM) },
  };
}
