import { practice, type Source } from '../../source';
import {
  cubicFootM3,
  cubicYardM3,
  footM,
  litreM3,
  poundKg,
  type UnitSystem,
} from '../../units/units';
import { wholeUp } from './loads';
import type { Unit } from './measures';
import type { Need } from './needs';

/** A form in which something is sold or taken away: in whole ones of a size. */
export interface SoldForm {
  /** 'bag', 'bulk', 'skip', … */
  readonly as: string;
  /** How much one is, in `unit`. */
  readonly size: number;
  readonly unit: Unit;
  /** The size as the list has it: '40 L'. */
  readonly sizeText: string;
  /** For one, in the user's currency; `null` while not known. */
  readonly price: number | null;
  /** `null` for a form of the user's own price list. */
  readonly source: Source | null;
}

/** A need in whole ones of a form. */
export interface Bought {
  readonly form: SoldForm;
  readonly count: number;
  /** What that comes to, in the need's unit. */
  readonly brings: number;
  readonly cost: number | null;
}

/** Of more than this a larger form is taken, where no price tells. Our choice, no source. */
const mostPieces = 12;

/** A need in a form, `null` where the form does not measure it. What is sold by weight is bought by the heavier one. */
export function bought(need: Need, form: SoldForm): Bought | null {
  const size = sizeFor(need, form);
  if (size === null || size <= 0) return null;
  const count = wholeUp(need.amount / size);
  return {
    form,
    count,
    brings: count * size,
    cost: form.price === null ? null : count * form.price,
  };
}

function sizeFor({ unit, amount, weightKg }: Need, form: SoldForm): number | null {
  if (form.unit === unit) return form.size;
  if (form.unit !== 'kg' || unit !== 'm3' || weightKg === null || amount === 0) return null;
  return form.size / (weightKg[1] / amount);
}

/**
 * The ways to buy a need, the one to take first: the cheapest; where nothing has a price the smallest form that is not too
 * many, else the largest.
 */
export function ranked(ways: readonly Bought[]): Bought[] {
  return [...ways].sort((a, b) => {
    if (a.cost !== null || b.cost !== null) return (a.cost ?? Infinity) - (b.cost ?? Infinity);
    const [manyA, manyB] = [a.count > mostPieces, b.count > mostPieces];
    if (manyA !== manyB) return manyA ? 1 : -1;
    return manyA ? a.count - b.count : b.count - a.count;
  });
}

/** Forms that things usually come in, until a price list tells. Common practice, no source. */
export function usualForms(need: Need, system: UnitSystem): SoldForm[] {
  const isUs = system === 'us';
  const form = (as: string, size: number, unit: Unit, sizeText: string): SoldForm => ({
    as,
    size,
    unit,
    sizeText,
    price: null,
    source: practice,
  });
  if (need.use === 'move') return [];
  if (need.use === 'away') {
    return isUs
      ? [
          form('skip', 10 * cubicYardM3, 'm3', '10 yd3'),
          form('pick-up load', cubicYardM3, 'm3', '1 yd3'),
        ]
      : [form('skip', 3, 'm3', '3 m3'), form('trailer load', 0.5, 'm3', '0.5 m3')];
  }
  switch (need.unit) {
    case 'm3': {
      if (!isUs)
        return [form('bag', 40 * litreM3, 'm3', '40 L'), form('bulk', 0.5, 'm3', '0.5 m3')];
      const bagFt3 = need.name === 'mulch' ? 2 : 0.5;
      return [
        form('bag', bagFt3 * cubicFootM3, 'm3', `${bagFt3} ft3`),
        form('bulk', 0.5 * cubicYardM3, 'm3', '0.5 yd3'),
      ];
    }
    case 'm':
      return isUs ? [form('length', 10 * footM, 'm', '10 ft')] : [form('length', 1, 'm', '1 m')];
    case 'kg':
      return isUs ? [form('pack', poundKg, 'kg', '1 lb')] : [form('pack', 0.5, 'kg', '500 g')];
    default:
      return [form('each', 1, 'piece', '1')];
  }
}
