import { InputError } from '../errors';
import type { Settings } from '../plan/schema';
import { tableDepth } from '../storm/depth-table';
import { eventDepthMm } from '../storm/event-depth';

/** Rain of 24 h that comes once in two years, which times of sheet flow hang on. */
export interface TwoYearRain {
  readonly rainMm: number;
  /** Whether the plan's depth table tells it; else the plan's own event stands in. */
  readonly fromTable: boolean;
}

/** 2-year rain of 24 h from the plan's table; where it has none the event's own depth stands in. */
export function twoYearRain(settings: Settings): TwoYearRain {
  const table = settings.storm?.depth_table;
  if (table !== undefined) {
    try {
      return { rainMm: tableDepth(table, 24 * 60, 2).depthMm, fromTable: true };
    } catch (error) {
      // the table does not reach as far
      if (!(error instanceof InputError)) throw error;
    }
  }
  return { rainMm: eventDepthMm(settings), fromTable: false };
}
