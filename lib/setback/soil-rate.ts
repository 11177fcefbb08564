import { designInfiltration } from '../soil/design-infiltration';
import type { SetbackInput } from './setback-result';

/** How fast the soil takes water, as far as the plan says. */
export interface SoilRate {
  readonly mmPerH: number;
  /** Whether it was measured or typed in; a rate from texture or soil group is rough. */
  readonly measured: boolean;
}

type SoilAsked = Pick<SetbackInput, 'plan' | 'soil'>;

const mmPerHOfMPerS = 3.6e6;

/**
 * The soil's rate for design by the plan's soil settings and tests. A soil group alone gives none: what is published
 * for it is the least that its soils take.
 */
export function soilRate({ plan, soil }: SoilAsked): SoilRate | undefined {
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  const { rateMPerS, from } = designInfiltration(soil, tests);
  if (rateMPerS === null || from === 'group') return undefined;
  return { mmPerH: rateMPerS * mmPerHOfMPerS, measured: from === 'typed' || from === 'tests' };
}

/** Rates published by texture are on the safe side: a soil may take so many times as much. Common practice, no source. */
const roughBy = 4;
/**
 * What soils of a hydrologic group take, mm/h: the limits of NEH 630 chapter 7, table 7-1 (seen in two copies), of both
 * its columns together.
 */
const groupMmPerH = { A: [36, Infinity], B: [14.4, 144], C: [1.44, 36], D: [0, 3.6] } as const;

/** The least and the most that the soil may take, mm/h: one figure where it was measured. */
export function soilRateBounds(input: SoilAsked): readonly [least: number, most: number] {
  const rate = soilRate(input);
  const group = input.soil?.group;
  if (rate !== undefined) return [rate.mmPerH, rate.mmPerH * (rate.measured ? 1 : roughBy)];
  return group === undefined ? [0, Infinity] : groupMmPerH[group];
}

/**
 * Whether the soil is slower than a limit; `undefined` where the plan does not say, or not well enough.
 *
 * @param limitMmPerH - `undefined` counts every soil as slow.
 */
export function isSlow(input: SoilAsked, limitMmPerH: number | undefined): boolean | undefined {
  if (limitMmPerH === undefined) return true;
  const [least, most] = soilRateBounds(input);
  if (most < limitMmPerH) return true;
  return least >= limitMmPerH ? false : undefined;
}
