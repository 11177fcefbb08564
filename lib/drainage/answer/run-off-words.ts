import { formatVolume } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import type { LotRunOff, SurfaceRow } from './lot-run-off';

/** What a row of the lot's run-off is of: 'lawn, good, group C', 'paving, unconnected'. */
export function surfaceName({ cover, condition, soil_group, unconnected }: SurfaceRow): string {
  return [
    cover === 'roof' ? 'roofs' : cover === 'basin' ? 'inside the rain garden' : cover,
    ...(condition === null ? [] : [condition]),
    ...(soil_group === null ? [] : [`group ${soil_group}`]),
    ...(unconnected ? ['unconnected'] : []),
  ].join(', ');
}

/** How the areas of the list come about: they differ a little from those that outlines enclose. */
export const cellAreasText =
  'Areas of the ground are of whole cells of the elevation, so that they add up to the lot; outlines enclose a little more or less.';

/** A curve number as it is shown: whole, or with a tenth where it was reckoned. */
export function curveNumberText(curveNumber: number): string {
  return String(Number(curveNumber.toFixed(1)));
}

/** What one averaged curve number would have made of the run-off, in a sentence; `null` in a thaw. */
export function averagingText(runOff: LotRunOff, units: UnitSystem): string | null {
  const { averaged, unconnected } = runOff;
  if (averaged === null) return null;
  const apartM3 = averaged.run_off_m3 + averaged.lost_m3;
  const write = (volumeM3: number): string => formatVolume(volumeM3, units, apartM3);
  const credited = (unconnected?.credited_m3 ?? 0) > 0 ? ', before the credit' : '';
  const one = `One curve number for the whole lot, the mean ${curveNumberText(averaged.curve_number)}, would give ${write(averaged.run_off_m3)} instead of ${write(apartM3)}${credited}`;
  const share = `${Math.round(100 * Math.abs(averaged.lost_fraction))} %`;
  if (Math.round(1000 * averaged.lost_fraction) === 0) return `${one}: as good as the same.`;
  return averaged.lost_m3 > 0
    ? `${one}: averaging would lose ${write(averaged.lost_m3)}, ${share}.`
    : `${one}: averaging would add ${write(-averaged.lost_m3)}, ${share}.`;
}
