import { formatLength } from '../units/format';
import type { UnitSystem } from '../units/units';

/** How far around the lot is taken where nobody says, metres: what drains to it or stands near it. Our choice. */
export const usualNearM = 100;
/** How close the ends of a line are that may have been meant to meet, metres. Our choice. */
export const usualCloseM = 0.05;

/** A distance from the lot in words: whole metres or feet, tenths of short ones. */
export function nearWords(metres: number, units: UnitSystem): string {
  return formatLength(metres, units, metres < 10 && !Number.isInteger(metres) ? 0.1 : 1);
}
