import { inverted } from './inverse';
import { assert } from '../errors';
import type { XY } from '../frame/frame';

/** A height that was read somewhere. */
export interface Sample {
  readonly at: XY;
  /** Above the common zero; of a level line, above the line's own level, which is not known. */
  readonly valueM: number;
  /** Which level line it belongs to, from 0; null for what is read from the common zero. */
  readonly line: number | null;
}

/** A shape that the surface may have so much of as its samples say, beside the plane: where the ground jumps. */
export type Jump = (x: number, y: number) => number;

/** A smooth surface through samples. */
export interface ThinPlate {
  /** Height of the surface at a place, metres above the common zero. */
  readonly at: (x: number, y: number) => number;
  /** Level of each level line, metres above the common zero. */
  readonly levelsM: readonly number[];
  /** For each sample, how much higher it was read than all the others together say, metres. */
  readonly leftOutM: readonly number[];
}

/**
 * The thin-plate spline through samples: of all surfaces through them the one that bends least. On a plane it is exact.
 * Level lines whose level nobody read join in: the surface is level along each, and where that lies is solved for with
 * the rest, as one more trend beside the plane's three.
 *
 * What each sample would have been foretold from the others comes from the same matrix, without solving anew.
 *
 * @param samples - at least three, not all on one line; no two at one place.
 * @param lines - how many level lines there are.
 * @param jumps - further trends; each has to be told by samples, as one to either side of where the ground jumps.
 * @returns null where the samples do not settle the surface.
 * Cost: the cube of the samples, once; then a logarithm for each sample at each place asked about.
 * Source: Duchon, Splines minimizing rotation-invariant semi-norms in Sobolev spaces, 1977; Rippa, An algorithm for
 * selecting a good value for the parameter c in radial basis function interpolation, 1999 (left-out errors); both from
 * memory, checked against another library's values.
 */
export function thinPlate(
  samples: readonly Sample[],
  lines: number,
  jumps: readonly Jump[] = [],
): ThinPlate | null {
  const count = samples.length;
  const size = count + 3 + lines + jumps.length;
  const jumpAt = count + 3 + lines;
  const scaled = scaleOf(samples);
  const xs = Float64Array.from(samples, ({ at }) => scaled.x(at[0]));
  const ys = Float64Array.from(samples, ({ at }) => scaled.y(at[1]));
  const matrix = new Float64Array(size * size);
  const put = (row: number, column: number, value: number): void => {
    matrix[row * size + column] = value;
    matrix[column * size + row] = value;
  };
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < i; j++) put(i, j, bend((xs[i] - xs[j]) ** 2 + (ys[i] - ys[j]) ** 2));
    put(i, count, 1);
    put(i, count + 1, xs[i]);
    put(i, count + 2, ys[i]);
    const { line } = samples[i];
    // What lies on a line is read from its level, which is taken off on the other side.
    if (line !== null) put(i, count + 3 + line, -1);
    jumps.forEach((jump, k) => {
      put(i, jumpAt + k, jump(...samples[i].at));
    });
  }
  const inverse = inverted(matrix, size);
  if (inverse === null) return null;
  const weights = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < count; j++) weights[i] += inverse[i * size + j] * samples[j].valueM;
  }
  return {
    at(x, y) {
      const px = scaled.x(x);
      const py = scaled.y(y);
      let z = weights[count] + weights[count + 1] * px + weights[count + 2] * py;
      for (let i = 0; i < count; i++) z += weights[i] * bend((px - xs[i]) ** 2 + (py - ys[i]) ** 2);
      jumps.forEach((jump, k) => {
        z += weights[jumpAt + k] * jump(x, y);
      });
      return z;
    },
    levelsM: Array.from({ length: lines }, (_, line) => weights[count + 3 + line]),
    leftOutM: samples.map((_, i) => weights[i] / inverse[i * size + i]),
  };
}

/** r² log r, from r²; the half is left to the weights. */
function bend(squared: number): number {
  return squared === 0 ? 0 : squared * Math.log(squared);
}

/** Places brought to about -1 to 1, without which the plane and the bending lie too far apart to be solved together. */
function scaleOf(samples: readonly Sample[]) {
  assert(samples.length > 0, 'a surface needs samples');
  const middle = [0, 1].map((k) => {
    const values = samples.map(({ at }) => at[k]);
    return (Math.min(...values) + Math.max(...values)) / 2;
  });
  const reachM = Math.max(
    ...samples.map(({ at }) => Math.max(Math.abs(at[0] - middle[0]), Math.abs(at[1] - middle[1]))),
    1e-6,
  );
  return {
    x: (value: number) => (value - middle[0]) / reachM,
    y: (value: number) => (value - middle[1]) / reachM,
  };
}
