import type { SoilGroup } from '../storm/curve-numbers';
import type { SoilSettings } from '../plan/soil-settings';
import type { DesignInfiltration } from './design-infiltration';
import { mmPerHOfMPerS } from '../units/units';

/** How slow and how fast the soil may be, metres a second, by what the plan says of it. */
export interface RateBounds {
  readonly leastMPerS: number;
  readonly mostMPerS: number;
  /** By what: a rate that was measured or typed in has no bounds but itself. */
  readonly by: 'measured' | 'texture' | 'group' | 'none';
}

/** Rates published by texture are on the safe side: a soil may take so many times as much. Common practice, no source. */
const roughBy = 4;

/**
 * What soils of a hydrologic group take, metres a second: the limits of NEH 630 chapter 7, table 7-1 (seen in two copies),
 * of both its columns together.
 */
const groupMPerS: Readonly<Record<SoilGroup, readonly [least: number, most: number]>> = {
  A: [36 / mmPerHOfMPerS, Infinity],
  B: [14.4 / mmPerHOfMPerS, 144 / mmPerHOfMPerS],
  C: [1.44 / mmPerHOfMPerS, 36 / mmPerHOfMPerS],
  D: [0, 3.6 / mmPerHOfMPerS],
};

/** The bounds of a rate for design. */
export function rateBounds(
  { rateMPerS, from }: Pick<DesignInfiltration, 'rateMPerS' | 'from'>,
  soil: SoilSettings | undefined,
): RateBounds {
  if (rateMPerS !== null && from !== 'group') {
    const isRough = from === 'texture';
    return {
      leastMPerS: rateMPerS,
      mostMPerS: rateMPerS * (isRough ? roughBy : 1),
      by: isRough ? 'texture' : 'measured',
    };
  }
  const group = soil?.group;
  if (group === undefined) return { leastMPerS: 0, mostMPerS: Infinity, by: 'none' };
  const [leastMPerS, mostMPerS] = groupMPerS[group];
  return { leastMPerS, mostMPerS, by: 'group' };
}
