import type { OrderDocument } from '../../../lib/handover/job/order-of-job';
import type { OrderRow } from '../../../lib/handover/orders/order-list';
import {
  loadsText,
  quantityText,
  quoteWords,
  tenthMoreWords,
  weightText,
} from '../../../lib/handover/job/order-words';
import type { QuoteRow } from '../../../lib/handover/orders/quotes';
import type { UnitSystem } from '../../../lib/units/units';
import { noteLines } from '../notes';
import { table } from '../writing/table';

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
    tenthMoreWords(order, system),
    noteLines(order.notes),
  ].join('\n\n');
}

function cells(row: OrderRow, system: UnitSystem): string[] {
  const { buy, weight_kg: weight, barrow_loads: barrows, trailer_loads: trailers } = row;
  return [
    `  ${row.name}`,
    quantityText(row.amount, row.unit, system),
    buy === null ? '' : `${buy.count} × ${buy.as} ${buy.size}`,
    [
      weight === null ? '' : `${weightText(weight, system)}, ${loadsText(barrows ?? 0, 'barrow')}`,
      trailers === null ? '' : loadsText(trailers, 'trailer'),
      buy === null || buy.cost === null ? '' : `costs ${buy.cost.toFixed(2)}`,
    ]
      .filter((part) => part !== '')
      .join(', '),
  ];
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
  const lines = quotes.map((quote) => {
    const [first, ...more] = quoteWords(quote);
    return [`  ${first}`, ...more.map((each) => `    ${each}`)].join('\n');
  });
  return [`Quotes, without tax\n${lines.join('\n')}`];
}
