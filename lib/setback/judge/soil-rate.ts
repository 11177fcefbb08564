import { designInfiltration } from '../../soil/design-infiltration';
import { rateBounds, type RateBounds } from '../../soil/rate-bounds';
import type { SetbackInput } from './setback-input';
import { mmPerHOfMPerS } from '../../units/units';

type SoilAsked = Pick<SetbackInput, 'plan' | 'soil'>;

/** How slow and how fast the soil may be by the plan's soil settings and tests. */
export function soilRate({ plan, soil }: SoilAsked): RateBounds {
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  return rateBounds(designInfiltration(soil, tests), soil);
}

/**
 * Whether the soil is slower than a limit; `undefined` where the plan does not say, or not well enough.
 *
 * @param limitMmPerH - `undefined` counts every soil as slow.
 */
export function isSlow(input: SoilAsked, limitMmPerH: number | undefined): boolean | undefined {
  if (limitMmPerH === undefined) return true;
  const limitMPerS = limitMmPerH / mmPerHOfMPerS;
  const { leastMPerS, mostMPerS } = soilRate(input);
  if (mostMPerS < limitMPerS) return true;
  return leastMPerS >= limitMPerS ? false : undefined;
}
