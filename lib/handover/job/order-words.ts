import {
  cubicYardM3,
  footM,
  poundKg,
  shortTonKg,
  squareFootM2,
  tonneKg,
  type UnitSystem,
} from '../../units/units';
import type { Unit } from '../orders/measures';
import { familyOf } from '../orders/order-list';
import type { QuoteRow } from '../orders/quotes';
import type { OrderDocument } from './order-of-job';

/** An amount in the user's units, two decimals for volumes and one for the rest. */
export function quantityText(amount: number, unit: Unit, system: UnitSystem): string {
  const isUs = system === 'us';
  switch (unit) {
    case 'm3':
      return isUs ? `${(amount / cubicYardM3).toFixed(2)} yd³` : `${amount.toFixed(2)} m³`;
    case 'm2':
      return isUs ? `${(amount / squareFootM2).toFixed(0)} ft²` : `${amount.toFixed(1)} m²`;
    case 'm':
      return isUs ? `${(amount / footM).toFixed(1)} ft` : `${amount.toFixed(1)} m`;
    case 'kg':
      return isUs ? `${(amount / poundKg).toFixed(1)} lb` : `${amount.toFixed(1)} kg`;
    case 'piece':
      return String(Math.ceil(amount));
  }
}

export function loadsText(count: number, of: string): string {
  return `${count} ${of}-load${count === 1 ? '' : 's'}`;
}

export function weightText([from, to]: readonly [number, number], system: UnitSystem): string {
  const unit = system === 'us' ? shortTonKg : tonneKg;
  const [least, most] = [from, to].map((kg) => (kg / unit).toFixed(kg < unit ? 2 : 1));
  return `${least === most ? most : `${least} to ${most}`} ${system === 'us' ? 'tons' : 't'}`;
}

/** What one of those who quote asks, and what stands in it or not; a sentence each, without a full stop. */
export function quoteWords(quote: QuoteRow): readonly string[] {
  const { from, quoted, reckoned, difference, not_quoted: lacks, not_reckoned: more } = quote;
  return [
    `${from} asks ${quoted.toFixed(2)} for what is reckoned at ${reckoned.toFixed(2)}: ${Math.abs(difference).toFixed(2)} ${difference < 0 ? 'less' : 'more'}`,
    ...(lacks.length === 0 ? [] : [`not in the quote: ${lacks.join('; ')}`]),
    ...(more.length === 0 ? [] : [`quoted, but without a price here: ${more.join('; ')}`]),
  ];
}

/** What a tenth more garden takes and costs. */
export function tenthMoreWords(
  { ten_percent_more: more }: OrderDocument,
  system: UnitSystem,
): string {
  const rows = [...byFamily(more.rows).values()]
    .filter((row) => Math.abs(row.more) > 0.05)
    .map(
      (row) =>
        `${row.name} ${row.more < 0 ? '−' : '+'}${quantityText(Math.abs(row.more), row.unit, system)}`,
    );
  const cost =
    more.more_total === null ? '' : ` and costs ${more.more_total.toFixed(2)} more, tax included`;
  return `A tenth more garden takes ${rows.join(', ')}${cost}.`;
}

type MoreRow = OrderDocument['ten_percent_more']['rows'][number];

/** Plants as one: a larger zone sets its kinds anew, so that one may lose what another gains. */
function byFamily(rows: readonly MoreRow[]): Map<string, MoreRow> {
  const found = new Map<string, MoreRow>();
  for (const row of rows) {
    const name = row.unit === 'piece' ? familyOf(row.name) : row.name;
    found.set(name, { ...row, name, more: row.more + (found.get(name)?.more ?? 0) });
  }
  return found;
}
