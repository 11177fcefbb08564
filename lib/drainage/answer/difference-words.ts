import { nameById } from '../../plan/feature-name';
import type { Plan } from '../../plan/schema';
import { formatArea, formatLength, formatVolume } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import { elsewhere, soakedWords } from './ledger';
import { lowSpotName } from './listed-low-spots';
import type { Difference } from './what-changed';

/** What a difference is about, in words. */
export function differenceWords({ about, id, lowSpot }: Difference, plan: Plan): string {
  const name = id === null ? elsewhere : nameById(plan.features, id);
  const spot =
    lowSpot === undefined
      ? 'a low spot'
      : `${lowSpotName(lowSpot.number)}${lowSpot.gone ? ', which is gone' : ''}`;
  switch (about) {
    case 'run-on':
      return `run-on from ${name}`;
    case 'passed-on':
      return `passed on to ${name}`;
    case 'soaked':
      return `${soakedWords}, on the lot`;
    case 'standing':
      return 'stands in low spots of the lot';
    case 'basin':
      return 'held by basins';
    case 'sewer':
      return 'to the storm sewer';
    case 'low-spot':
      return `stands in ${spot}`;
    case 'drains-to':
      return `drains to ${lowSpot === undefined ? name : spot}`;
    case 'at-wall':
      return `depth by ${name}`;
  }
}

/** One of a difference's two figures, in the unit that suits the larger. */
export function differenceFigure(
  value: number,
  { unit, before, after }: Difference,
  units: UnitSystem,
): string {
  if (unit === 'm3') return formatVolume(value, units, Math.max(before, after));
  return unit === 'm2' ? formatArea(value, units) : formatLength(value, units);
}
