import { InputError } from '../../errors';
import { headedTable } from '../../tables/headed-table';
import type { OrderList } from './order-list';
import { itemName } from './price-list';

/** A price that somebody offers, without tax. */
export interface Quote {
  readonly from: string;
  readonly item: string;
  readonly price: number;
}

/** What one of those who quote asks, beside the job's own sums. The fields leave the program. */
export interface QuoteRow {
  readonly from: string;
  readonly quoted: number;
  /** The job's own cost of the same things. */
  readonly reckoned: number;
  readonly difference: number;
  /** What the job needs and the quote does not name. */
  readonly not_quoted: readonly string[];
  /** What the quote names and the job has no price for, so that it is not in the difference. */
  readonly not_reckoned: readonly string[];
}

/** Stands in a quote for the whole job. */
const everything = 'everything';

const columns = {
  from: { names: ['from', 'supplier', 'quote'], needed: true },
  item: { names: ['item', 'material', 'name'], needed: true },
  price: { names: ['price', 'sum'], needed: true },
} as const;

/** Reads quotes: a row for each thing that somebody offers, `everything` for the whole. @throws {InputError} */
export function readQuotes(text: string, name: string): Quote[] {
  return headedTable(text, name, 'a list of quotes', columns).map((row) => {
    const price = row.number('price');
    const from = row.text('from');
    if (price !== null && price >= 0 && from !== '') {
      return { from, item: itemName(row.text('item')), price };
    }
    throw new InputError({
      code: 'quote-incomplete',
      where: row.where,
      problem: 'a quote needs who makes it and a price of zero or more',
      remedy: 'fill both in, or take the line out',
    });
  });
}

/** Quotes beside the job's own sums, in the order in which they were first named. */
export function compareQuotes(quotes: readonly Quote[], order: OrderList): QuoteRow[] {
  const ours = ownCosts(order);
  const byFrom = new Map<string, Quote[]>();
  for (const quote of quotes) {
    byFrom.set(quote.from, [...(byFrom.get(quote.from) ?? []), quote]);
  }
  return [...byFrom].map(([from, own]) => {
    const whole = own.some(({ item }) => item === everything);
    const known = own.filter(({ item }) => item === everything || ours.has(item));
    const quoted = known.reduce((sum, { price }) => sum + price, 0);
    const reckoned = whole
      ? (order.cost?.net ?? 0)
      : known.reduce((sum, { item }) => sum + (ours.get(item) ?? 0), 0);
    const named = new Set(own.map(({ item }) => item));
    return {
      from,
      quoted,
      reckoned,
      difference: quoted - reckoned,
      not_quoted: whole ? [] : [...ours.keys()].filter((item) => !named.has(item)),
      not_reckoned: own.filter((quote) => !known.includes(quote)).map(({ item }) => item),
    };
  });
}

function ownCosts({ rows, hires, delivery }: OrderList): Map<string, number> {
  const costs = new Map<string, number>();
  for (const { name, buy } of rows) {
    if (buy !== null && buy.cost !== null) costs.set(itemName(name), buy.cost);
  }
  for (const { item, cost } of hires) costs.set(item, cost);
  if (delivery !== null && delivery.loads > 0) costs.set('delivery', delivery.cost);
  return costs;
}
