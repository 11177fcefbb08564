import { formatLength, formatVolume } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import { toldForMmPerH, type LotFinding } from './check-lot';

/** Why a rule does not pass at a place, or does, and whom to ask. */
export function lotReason(row: LotFinding, units: UnitSystem): string {
  const note = row.note === null ? '' : ` ${row.note}`;
  return `${row.title}, ${row.feature_name}. ${row.why}${gathered(row, units)}${note} Ask ${row.ask}.`;
}

function gathered({ gathered: water }: LotFinding, units: UnitSystem): string {
  if (water === null) return '';
  const parts = [
    ...(water.volume_m3 === null ? [] : [`${formatVolume(water.volume_m3, units)} in the storm`]),
    ...(water.l_per_s === null
      ? []
      : [
          `${water.l_per_s.toFixed(1)} l/s${water.volume_m3 === null ? ' from the pump' : ` at ${toldForMmPerH} mm in an hour`}`,
        ]),
    ...(water.width_m === null ? [] : [`${formatLength(water.width_m, units)} wide`]),
  ];
  return parts.length === 0 ? '' : ` (${parts.join(', ')})`;
}
