import { formatLength, formatVolume } from '../units/format';
import type { UnitSystem } from '../units/units';
import type { LotWaterRow } from './review-result';

/**
 * Smaller differences are rounding and the size of cells, not a harm. Our choices, no source; they are not the error of the
 * heights, which is larger.
 */
export const worseFrom = { volume_m3: 0.05, share: 0.01, depth_m: 0.005 } as const;

/** Whether anything is worse on a lot after than before. */
export function isWorseOff(before: LotWaterRow, after: LotWaterRow): boolean {
  return worseOff(before, after, 'metric').length > 0;
}

/** What is worse on a lot after than before, a few words each. */
export function worseOff(before: LotWaterRow, after: LotWaterRow, units: UnitSystem): string[] {
  const found: string[] = [];
  for (const building of after.wet_buildings) {
    const was = before.wet_buildings.find((row) => row.building === building.building);
    const rise = building.depth_m - (was?.depth_m ?? 0);
    if (rise < worseFrom.depth_m) continue;
    found.push(
      was === undefined
        ? `water by ${building.name}, ${formatLength(building.depth_m, units)} deep, where none was`
        : `water by ${building.name} ${formatLength(rise, units)} deeper`,
    );
  }
  more('stands', before.standing_m3, after.standing_m3);
  more('comes from other lots', before.from_lots_m3, after.from_lots_m3);
  more('comes from street and other ground', before.from_elsewhere_m3, after.from_elsewhere_m3);
  return found;

  function more(what: string, wasM3: number, isM3: number): void {
    const moreM3 = isM3 - wasM3;
    if (moreM3 < worseFrom.volume_m3 || moreM3 < worseFrom.share * wasM3) return;
    found.push(`${formatVolume(moreM3, units)} more ${what}`);
  }
}
