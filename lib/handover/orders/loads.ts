import type { Source } from '../../source';
import { cubicFootM3 } from '../../units/units';

/** Level tray of a usual barrow, and what of it is moved safely when it is wet soil. */
export const barrow = {
  levelM3: 6 * cubicFootM3,
  heavyM3: 3 * cubicFootM3,
  source: {
    title: 'Wheelbarrow loads: 6 ft3 level, of wet soil often only 3 ft3',
    publisher: 'garden pages on the web',
    year: null,
    mark: 'seen',
  } satisfies Source,
};

/** Lighter than this, kg/m3, a level tray is moved: mulch. Our choice, no source. */
const lightKgPerM3 = 700;

/** Barrow-loads of something loose, not rounded: 9 or 4.5 to the cubic yard. */
export function barrowLoads(looseM3: number, kgPerM3: number): number {
  return looseM3 / (kgPerM3 < lightKgPerM3 ? barrow.levelM3 : barrow.heavyM3);
}

/** Loads that bear no more than so much each, whole ones. */
export function loadsByWeight(kg: number, payloadKg: number): number {
  return wholeUp(kg / payloadKg);
}

/** The next whole number, but for what only rounding put over one. */
export function wholeUp(value: number): number {
  return Math.max(0, Math.ceil(value - 1e-9));
}
