import { mmPerHOfMPerS } from '../../units/units';

/** Hours that a garden stands wet after a rain, by the rate at which its soil takes water; `Infinity` where it stays wet. */
export type DryingTime = (rain: RainSeen, rateMPerS: number) => number;

/** A rain as it was seen. */
export interface RainSeen {
  readonly rainMm: number;
  /** How long it rained; `null` for as long as the plan's storm. */
  readonly rainH: number | null;
}

export interface DryingSeen extends RainSeen {
  readonly dryH: number;
  readonly stillWet: boolean;
}

/** What one look tells of the soil. */
export interface RateOfRow {
  /** The rate at which it would dry as was seen; `null` where the look tells none. */
  readonly rateMPerS: number | null;
  /** Whether the rate is only known not to be more. */
  readonly isMost: boolean;
  /** Why it tells none. */
  readonly why: string | null;
}

/** The rate that looks together come to, with its uncertainty. */
export interface RefitRate {
  readonly rateMPerS: number;
  /** Between these it lies nine times in ten. */
  readonly between: readonly [number, number];
  readonly count: number;
  readonly method: string;
}

/** Slowest and fastest rate that is looked for, metres a second: 0.02 mm/h and 2 m/h, beyond any soil. */
const rates = { least: 0.02 / mmPerHOfMPerS, most: 2000 / mmPerHOfMPerS } as const;
/** Halvings of the range of rates: to a millionth. */
const halvings = 40;
/** A single look leaves the rate open by this factor each way. Our choice, no source. */
const loneFactor = 2;

/** The rate of one look: hours fall as the rate grows, so it is found by halving. */
export function rateOfRow(seen: DryingSeen, dryingTime: DryingTime): RateOfRow {
  const none = (why: string): RateOfRow => ({ rateMPerS: null, isMost: false, why });
  if (dryingTime(seen, rates.least) === 0) return none('so little rain leaves no water standing');
  if (seen.dryH === 0 && !seen.stillWet) return none('it was dry when the rain ended');
  if (dryingTime(seen, rates.most) > seen.dryH) {
    return none(
      'no soil dries it so fast: the hours, the rain or the drawing are not as they were',
    );
  }
  let [low, high] = [Math.log(rates.least), Math.log(rates.most)];
  for (let i = 0; i < halvings; i++) {
    const middle = (low + high) / 2;
    if (dryingTime(seen, Math.exp(middle)) > seen.dryH) low = middle;
    else high = middle;
  }
  return { rateMPerS: Math.exp((low + high) / 2), isMost: seen.stillWet, why: null };
}

/** Two-sided nine-tenths points of Student's distribution by degrees of freedom from 1 (standard table, from memory). */
const student = [
  6.314, 2.92, 2.353, 2.132, 2.015, 1.943, 1.895, 1.86, 1.833, 1.812, 1.796, 1.782, 1.771, 1.761,
  1.753, 1.746, 1.74, 1.734, 1.729, 1.725,
];
const normal = 1.645;

/**
 * The geometric mean of rates and its nine-tenths interval, by Student's distribution of their logarithms.
 *
 * @returns `null` without any rate.
 */
export function refitRate(rows: readonly RateOfRow[]): RefitRate | null {
  const logs = rows.flatMap(({ rateMPerS, isMost }) =>
    rateMPerS === null || isMost ? [] : [Math.log(rateMPerS)],
  );
  if (logs.length === 0) return null;
  const count = logs.length;
  const mean = logs.reduce((sum, each) => sum + each, 0) / count;
  if (count === 1) {
    return {
      rateMPerS: Math.exp(mean),
      between: [Math.exp(mean) / loneFactor, Math.exp(mean) * loneFactor],
      count,
      method: 'from one look, open by a factor of 2 each way (our choice, no source)',
    };
  }
  const variance = logs.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (count - 1);
  const half = (student[count - 2] ?? normal) * Math.sqrt(variance / count);
  return {
    rateMPerS: Math.exp(mean),
    between: [Math.exp(mean - half), Math.exp(mean + half)],
    count,
    method: `geometric mean of ${count} looks, nine-tenths interval by their spread`,
  };
}
