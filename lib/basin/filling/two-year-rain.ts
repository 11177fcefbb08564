import { InputError } from '../../errors';
import type { Settings } from '../../plan/schema';
import type { Source } from '../../source';
import { tableDepth } from '../../storm/depth-table';
import { dayMin } from '../../units/units';

/** Rain of 24 h that comes once in two years, which times of sheet flow hang on. */
export interface TwoYearRain {
  readonly rainMm: number;
  /** Who tells it: the plan, its depth table, or nobody, so that the usual figure stands in. */
  readonly from: 'plan' | 'depth-table' | 'usual';
  /** `null` for the plan's own figures. */
  readonly source: Source | null;
}

/**
 * What stands in where nobody tells it, whatever event the plan has: 3.6 in. Most of North America away from its eastern
 * and southern coasts has less, for which it makes water come sooner than it does: the careful side for a peak.
 */
const usual: TwoYearRain = {
  rainMm: 91.44,
  from: 'usual',
  source: {
    title: 'Urban Hydrology for Small Watersheds, Technical Release 55',
    publisher: 'USDA Soil Conservation Service',
    year: 1986,
    section: 'example 3-1, whose 2-year rain of 24 h it is; to take it elsewhere is our choice',
    mark: 'seen',
  },
};

/** 2-year rain of 24 h: the plan's own, that of its depth table, else the usual figure; never the event's. */
export function twoYearRain({ storm }: Pick<Settings, 'storm'>): TwoYearRain {
  if (storm?.rain_2y_mm !== undefined) {
    return { rainMm: storm.rain_2y_mm, from: 'plan', source: null };
  }
  if (storm?.depth_table === undefined) return usual;
  try {
    const { depthMm } = tableDepth(storm.depth_table, dayMin, 2);
    return { rainMm: depthMm, from: 'depth-table', source: null };
  } catch (error) {
    // the table does not reach as far
    if (!(error instanceof InputError)) throw error;
    return usual;
  }
}
