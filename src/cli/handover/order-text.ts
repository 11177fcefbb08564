import type { OrderList, OrderRow } from '../../../lib/handover/orders/order-list';
import type { QuoteRow } from '../../../lib/handover/orders/quotes';
import type { Unit } from '../../../lib/handover/orders/measures';
import {
  cubicYardM3,
  footM,
  poundKg,
  shortTonKg,
  tonneKg,
  type UnitSystem,
} from '../../../lib/units/units';
import { noteLines } from '../notes';
import { table } from '../writing/table';

/** What `lotfall order` tells. */
export interface OrderDocument extends OrderList {
  readonly quotes: readonly QuoteRow[];
  readonly ten_percent_more: {
    readonly rows: readonly { readonly name: string; readonly more: number; readonly unit: Unit }[];
    readonly more_total: number | null;
  };
}

/** The order for people. */
export function orderText(
  order: OrderDocument,
  { title, system }: { readonly title: string; readonly system: UnitSystem },
): string {
  const of = (use: OrderRow['use']): OrderRow[] => order.rows.filter((row) => row.use === use);
  return [
    title,
    `To buy\n${table(
      of('buy').map((row) => cells(row, system)),
      'lrll',
    )}`,
    `To take away\n${
      table(
        of('away').map((row) => cells(row, system)),
        'lrll',
      ) || '  nothing'
    }`,
    `To move on the lot\n${table(
      of('move').map((row) => cells(row, system)),
      'lrll',
    )}`,
    ...costBlock(order),
    ...quoteBlock(order.quotes),
    tenPercent(order, system),
    noteLines(order.notes),
  ].join('\n\n');
}

function cells(row: OrderRow, system: UnitSystem): string[] {
  const { buy, weight_kg: weight, barrow_loads: barrows, trailer_loads: trailers } = row;
  return [
    `  ${row.name}`,
    quantity(row.amount, row.unit, system),
    buy === null ? '' : `${buy.count} × ${buy.as} ${buy.size}`,
    [
      weight === null ? '' : `${weightText(weight, system)}, ${loads(barrows ?? 0, 'barrow')}`,
      trailers === null ? '' : loads(trailers, 'trailer'),
      buy === null || buy.cost === null ? '' : `costs ${buy.cost.toFixed(2)}`,
    ]
      .filter((part) => part !== '')
      .join(', '),
  ];
}

/** An amount in the user's units, two decimals. */
function quantity(amount: number, unit: Unit, system: UnitSystem): string {
  const isUs = system === 'us';
  switch (unit) {
    case 'm3':
      return isUs ? `${(amount / cubicYardM3).toFixed(2)} yd³` : `${amount.toFixed(2)} m³`;
    case 'm':
      return isUs ? `${(amount / footM).toFixed(1)} ft` : `${amount.toFixed(1)} m`;
    case 'kg':
      return isUs ? `${(amount / poundKg).toFixed(1)} lb` : `${amount.toFixed(1)} kg`;
    default:
      return String(Math.ceil(amount));
  }
}

function loads(count: number, of: string): string {
  return `${count} ${of}-load${count === 1 ? '' : 's'}`;
}

function weightText([from, to]: readonly [number, number], system: UnitSystem): string {
  const unit = system === 'us' ? shortTonKg : tonneKg;
  const [least, most] = [from, to].map((kg) => (kg / unit).toFixed(kg < unit ? 2 : 1));
  return `${least === most ? most : `${least} to ${most}`} ${system === 'us' ? 'tons' : 't'}`;
}

function costBlock({ cost, hires, delivery }: OrderDocument): string[] {
  if (cost === null) return [];
  const rows: string[][] = [
    ...hires.map((hire) => [
      `  hire: ${hire.item}, ${hire.days} day${hire.days === 1 ? '' : 's'}`,
      hire.cost.toFixed(2),
    ]),
    ...(delivery === null
      ? []
      : [
          [
            `  delivery of what is loose, ${delivery.loads} load${delivery.loads === 1 ? '' : 's'}`,
            delivery.cost.toFixed(2),
          ],
        ]),
    ['  all without tax', cost.net.toFixed(2)],
    ['  tax', cost.tax.toFixed(2)],
    ['  total', cost.total.toFixed(2)],
    ['  reserve', cost.reserve.toFixed(2)],
    ['  to have ready', cost.ready.toFixed(2)],
  ];
  const lacks =
    cost.missing.length === 0 ? '' : `\n  No price, in no sum: ${cost.missing.join('; ')}`;
  const unused =
    cost.unused.length === 0 ? '' : `\n  In the list, of no use here: ${cost.unused.join('; ')}`;
  return [`Cost by ${cost.price_list}\n${table(rows, 'lr')}${lacks}${unused}`];
}

function quoteBlock(quotes: readonly QuoteRow[]): string[] {
  if (quotes.length === 0) return [];
  const lines = quotes.map(({ from, quoted, reckoned, difference, not_quoted, not_reckoned }) =>
    [
      `  ${from} asks ${quoted.toFixed(2)} for what is reckoned at ${reckoned.toFixed(2)}: ${Math.abs(difference).toFixed(2)} ${difference < 0 ? 'less' : 'more'}`,
      ...(not_quoted.length === 0 ? [] : [`    not in the quote: ${not_quoted.join('; ')}`]),
      ...(not_reckoned.length === 0
        ? []
        : [`    quoted, but without a price here: ${not_reckoned.join('; ')}`]),
    ].join('\n'),
  );
  return [`Quotes, without tax\n${lines.join('\n')}`];
}

function tenPercent({ ten_percent_more: more }: OrderDocument, system: UnitSystem): string {
  const rows = more.rows
    .filter((row) => Math.abs(row.more) > 0.05)
    .map((row) => `${row.name} ${row.more < 0 ? '' : '+'}${quantity(row.more, row.unit, system)}`);
  const cost =
    more.more_total === null ? '' : ` and costs ${more.more_total.toFixed(2)} more, tax included`;
  return `A tenth more garden takes ${rows.join(', ')}${cost}.`;
}
