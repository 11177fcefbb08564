import { InputError } from '../../errors';
import { headedTable, type HeadedRow } from '../../tables/headed-table';
import { sellingUnit, unitNames } from './measures';
import type { SoldForm } from './sold';

/** A thing hired by the day. */
export interface Hire {
  readonly item: string;
  readonly days: number;
  readonly pricePerDay: number;
}

/** Bringing: for each load of so many cubic metres or kilograms of what comes in bulk, or once for all. */
export interface Delivery {
  readonly pricePerLoad: number;
  readonly load: { readonly size: number; readonly unit: 'm3' | 'kg' } | null;
}

/** What the user is asked for materials and work. Prices are without tax. */
export interface PriceList {
  readonly name: string;
  /** By the name of the quantity. */
  readonly forms: ReadonlyMap<string, readonly SoldForm[]>;
  readonly hires: readonly Hire[];
  readonly delivery: Delivery | null;
  /** Shares of the sum: what is added to every price, what is kept back for what nobody foresaw. */
  readonly tax: number;
  readonly reserve: number;
  /** Remarks of the list's own rows. */
  readonly notes: readonly string[];
}

const columns = {
  item: { names: ['item', 'material', 'name'], needed: true },
  as: { names: ['sold as', 'form'], needed: true },
  size: { names: ['size', 'holds'], needed: true },
  unit: { names: ['unit'], needed: true },
  price: { names: ['price'], needed: true },
  count: { names: ['count', 'days'] },
  note: { names: ['note', 'remark'] },
} as const;

type Row = HeadedRow<keyof typeof columns>;

/**
 * Reads a price list: a row for each form in which a thing is sold (`mulch, bag, 50, L, 6.90`), `delivery` by the load,
 * hire by the `day` with a count of them, and `tax` and `reserve` in `%`.
 *
 * @throws {InputError} naming the line: what `headedTable` throws, `price-unit`, `price-negative`, `price-missing`.
 */
export function readPriceList(text: string, name: string): PriceList {
  const forms = new Map<string, SoldForm[]>();
  const hires: Hire[] = [];
  const notes: string[] = [];
  let delivery: Delivery | null = null;
  const shares = { tax: 0, reserve: 0 };
  for (const row of headedTable(text, name, 'a price list', columns)) {
    const item = itemName(row.text('item'));
    const price = priceOf(row, item);
    const as = row.text('as').toLowerCase();
    const note = row.text('note');
    if (note !== '') notes.push(`${item}: ${note}`);
    if (item === 'tax' || item === 'reserve') shares[item] = percentOf(row, as, price);
    else if (item === 'delivery') delivery = { pricePerLoad: price, load: loadOf(row) };
    else if (as === 'day') {
      hires.push({ item, days: row.number('count') ?? 1, pricePerDay: price });
    } else forms.set(item, [...(forms.get(item) ?? []), formOf(row, as, price)]);
  }
  return { name, forms, hires, delivery, ...shares, notes };
}

/** A name of the list as quantities are called. */
export function itemName(written: string): string {
  return written.toLowerCase().replaceAll('-', ' ').trim();
}

function priceOf(row: Row, item: string): number {
  const price = row.number('price');
  if (price === null) {
    throw new InputError({
      code: 'price-missing',
      where: row.where,
      problem: `'${item}' has no price`,
      remedy: 'give one, or take the line out',
    });
  }
  if (price >= 0) return price;
  throw new InputError({
    code: 'price-negative',
    where: row.where,
    problem: `the price of '${item}' is below zero`,
    remedy: 'give what you pay',
  });
}

function percentOf(row: Row, as: string, value: number): number {
  if (as === '%' || row.text('unit') === '%') return value / 100;
  throw new InputError({
    code: 'price-unit',
    where: row.where,
    problem: `'${row.text('item')}' is sold as '${as}'`,
    remedy: "give it as '%' of the sum",
  });
}

function loadOf(row: Row): Delivery['load'] {
  const size = row.number('size');
  if (size === null) return null;
  const { unit, factor } = unitOf(row);
  if (unit === 'm3' || unit === 'kg') return { size: size * factor, unit };
  throw new InputError({
    code: 'price-unit',
    where: row.where,
    problem: `a delivery of '${size} ${row.text('unit')}' says not how much a load is`,
    remedy: 'give a load in m3, yd3, t or ton, or leave size and unit empty for one delivery',
  });
}

function formOf(row: Row, as: string, price: number): SoldForm {
  const { unit, factor } = unitOf(row);
  const size = row.number('size') ?? 1;
  if (size <= 0) {
    throw new InputError({
      code: 'price-unit',
      where: row.where,
      problem: `a size of ${size} holds nothing`,
      remedy: 'give how much one is',
    });
  }
  const sizeText = `${size} ${row.text('unit')}`;
  return { as, size: size * factor, unit, sizeText, price, source: null };
}

function unitOf(row: Row): NonNullable<ReturnType<typeof sellingUnit>> {
  const found = sellingUnit(row.text('unit'));
  if (found !== null) return found;
  throw new InputError({
    code: 'price-unit',
    where: row.where,
    problem: `'${row.text('unit')}' is no unit that things are sold by`,
    remedy: `use one of ${unitNames}`,
  });
}
