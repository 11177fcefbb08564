import type { XY } from '../frame/frame';

/** A measured value at a place in local metres. */
export interface Reading {
  readonly at: XY;
  readonly valueM: number;
}

/** Fewer readings are each a matter of its own place; a surface takes so many for each of its parameters. Our choices, no source. */
export const fewestForTrend = 4;
const readingsForParameter = 2;

/** Readings whose box is narrower than twice this, metres, lie in a line. Our choice, no source. */
const narrowestM = 0.5;

/** What readings have in common. */
export interface Trend {
  /** Its value at a place, metres; null where they have nothing in common. */
  readonly at: ((place: XY) => number) | null;
  /** Variance of the readings about it by degrees of freedom, m2. */
  readonly variance: number;
}

/** A surface over places along and across the readings. */
interface Surface {
  readonly terms: readonly ((u: number, v: number) => number)[];
  /** It is taken where it leaves no more than this share of the variance about the simpler one. Our choice, no source. */
  readonly mostLeft: number;
}

const tilt: Surface['terms'] = [() => 1, (u) => u, (_, v) => v];
const bowl: Surface['terms'] = [...tilt, (u) => u * u, (u, v) => u * v, (_, v) => v * v];
const surfaces: readonly Surface[] = [
  { terms: [() => 1], mostLeft: 0.5 },
  { terms: tilt, mostLeft: 0.3 },
  { terms: bowl, mostLeft: 0.15 },
];

/**
 * What readings have in common: nothing, an offset, a tilt or a bowl, each taken only where it leaves half the variance
 * of the simpler one or less (least squares). It goes no farther than the box around the readings along their longest
 * axis and is carried on level from there, so that it neither grows nor ends in a step.
 */
export function trendOf(readings: readonly Reading[]): Trend {
  const count = readings.length;
  let best: Trend = {
    at: null,
    variance: readings.reduce((sum, { valueM }) => sum + valueM ** 2, 0) / Math.max(1, count),
  };
  if (count < fewestForTrend) return best;
  const box = boxAround(readings.map(({ at }) => at));
  const places = readings.map(({ at }) => box(at));
  for (const { terms, mostLeft } of surfaces) {
    if (count < readingsForParameter * terms.length) break;
    const rows = places.map(([u, v]) => terms.map((term) => term(u, v)));
    const found = leastSquares(
      rows,
      readings.map(({ valueM }) => valueM),
    );
    // Readings in a line say nothing of what lies beside it.
    if (found === null) break;
    const valueAt = ([u, v]: XY): number =>
      terms.reduce((sum, term, i) => sum + found[i] * term(u, v), 0);
    const left = readings.reduce(
      (sum, { valueM }, i) => sum + (valueM - valueAt(places[i])) ** 2,
      0,
    );
    const variance = left / (count - terms.length);
    if (variance < mostLeft * best.variance)
      best = { at: (place) => valueAt(box(place)), variance };
  }
  return best;
}

/** Coordinates in a box around places along their longest axis, from -1 to 1 each; places outside get those of its rim. */
function boxAround(places: readonly XY[]): (place: XY) => XY {
  const mean = (valueOf: (place: XY) => number): number =>
    places.reduce((sum, place) => sum + valueOf(place), 0) / places.length;
  const [x0, y0] = [mean(([x]) => x), mean(([, y]) => y)];
  const xx = mean(([x]) => (x - x0) ** 2);
  const yy = mean(([, y]) => (y - y0) ** 2);
  const xy = mean(([x, y]) => (x - x0) * (y - y0));
  const turn = Math.atan2(2 * xy, xx - yy) / 2;
  const [cosine, sine] = [Math.cos(turn), Math.sin(turn)];
  const along = ([x, y]: XY): number => (x - x0) * cosine + (y - y0) * sine;
  const across = ([x, y]: XY): number => (y - y0) * cosine - (x - x0) * sine;
  const scaled = (axis: (place: XY) => number): ((place: XY) => number) => {
    const values = places.map(axis);
    const [lowest, highest] = [Math.min(...values), Math.max(...values)];
    const half = (highest - lowest) / 2;
    if (half < narrowestM) return () => 0;
    return (place) => (Math.min(Math.max(axis(place), lowest), highest) - lowest) / half - 1;
  };
  const [u, v] = [scaled(along), scaled(across)];
  return (place) => [u(place), v(place)];
}

/** Factors with which columns add up to values best; null where the columns do not tell them apart. By Cholesky's way. */
function leastSquares(
  rows: readonly (readonly number[])[],
  values: readonly number[],
): number[] | null {
  const size = rows[0].length;
  const lower: number[][] = [];
  const out: number[] = [];
  for (let i = 0; i < size; i++) {
    const row: number[] = [];
    for (let j = 0; j <= i; j++) {
      let sum = rows.reduce((total, terms) => total + terms[i] * terms[j], 0);
      for (let k = 0; k < j; k++) sum -= row[k] * (j === i ? row[k] : lower[j][k]);
      if (j < i) row.push(sum / lower[j][j]);
      else if (sum > 1e-3) row.push(Math.sqrt(sum));
      else return null;
    }
    lower.push(row);
    let right = rows.reduce((total, terms, at) => total + terms[i] * values[at], 0);
    for (let k = 0; k < i; k++) right -= row[k] * out[k];
    out.push(right / row[i]);
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let k = i + 1; k < size; k++) out[i] -= lower[k][i] * out[k];
    out[i] /= lower[i][i];
  }
  return out;
}
