import type { OrderDocument } from '../../handover/job/order-of-job';
import {
  quantityText,
  quoteWords,
  tenthMoreWords,
  weightText,
} from '../../handover/job/order-words';
import type { OrderRow, SoldRow } from '../../handover/orders/order-list';
import type { UnitSystem } from '../../units/units';
import { letters } from '../drawing/board';
import type { Block } from './flow';
import type { Cell, Table } from './table';

const small = { ...letters.body, pt: 7.2 };

/** What to buy, bring and take away, in what it is sold in, with weights, loads and cost. */
export function orderBlocks(order: OrderDocument, units: UnitSystem): Block[] {
  return [
    { kind: 'heading', text: 'Order list' },
    { kind: 'table', table: orderTable(order, units) },
    ...costBlocks(order),
    ...quoteBlocks(order),
    { kind: 'text', text: tenthMoreWords(order, units), look: letters.body },
  ];
}

const uses: Readonly<Record<OrderRow['use'], string>> = {
  buy: 'buy',
  away: 'take away',
  move: 'move on the lot',
};

function orderTable({ rows }: OrderDocument, units: UnitSystem): Table {
  const sorted = (['buy', 'away', 'move'] as const).flatMap((use) =>
    rows.filter((row) => row.use === use),
  );
  const isPriced = rows.some(({ buy }) => buy !== null && buy.cost !== null);
  const isTrailed = rows.some(({ trailer_loads: loads }) => loads !== null);
  const money: Table['columns'] = isPriced
    ? [
        { head: 'price', width: 10, align: 'end' },
        { head: 'cost', width: 12, align: 'end', look: letters.figureBold },
      ]
    : [];
  return {
    columns: [
      { head: 'what', width: 26, look: letters.bodyBold },
      { head: '', width: 14, look: small },
      { head: 'amount', width: 15, align: 'end' },
      { head: 'in what is sold', width: 22, look: letters.figureBold },
      { head: 'weight, moist to soaked', width: 19, align: 'end' },
      { head: 'barrow-loads', width: 10, align: 'end' },
      ...(isTrailed
        ? [{ head: 'trailer-loads', width: 10, align: 'end' } satisfies Table['columns'][number]]
        : []),
      ...money,
    ],
    rows: sorted.map((row): Cell[] => [
      row.name,
      uses[row.use],
      quantityText(row.amount, row.unit, units),
      row.buy === null ? '' : soldText(row.buy),
      row.weight_kg === null ? '' : weightText(row.weight_kg, units),
      row.barrow_loads === null ? '' : String(row.barrow_loads),
      ...(isTrailed ? [row.trailer_loads === null ? '' : String(row.trailer_loads)] : []),
      ...(isPriced ? [moneyText(row.buy?.price ?? null), moneyText(row.buy?.cost ?? null)] : []),
    ]),
    rowMm: 4.8,
  };
}

function soldText({ count, as, size }: SoldRow): string {
  return `${count} × ${as} ${size}`;
}

function moneyText(value: number | null): string {
  return value === null ? '' : value.toFixed(2);
}

function costBlocks({ cost, hires, delivery }: OrderDocument): Block[] {
  if (cost === null) return [];
  const rows: Cell[][] = [
    ...hires.map(({ item, days, cost: paid }) => [
      `hire: ${item}, ${days} day${days === 1 ? '' : 's'}`,
      moneyText(paid),
    ]),
    ...(delivery === null
      ? []
      : [
          [
            `delivery of what is loose, ${delivery.loads} load${delivery.loads === 1 ? '' : 's'}`,
            moneyText(delivery.cost),
          ],
        ]),
    ['all without tax', moneyText(cost.net)],
    ['tax', moneyText(cost.tax)],
    [
      { text: 'total', look: letters.bodyBold },
      { text: moneyText(cost.total), look: letters.figureBold },
    ],
    ['reserve for what nobody foresaw', moneyText(cost.reserve)],
    [
      { text: 'to have ready', look: letters.bodyBold },
      { text: moneyText(cost.ready), look: letters.figureBold },
    ],
  ];
  return [
    { kind: 'heading', text: `Cost by ${cost.price_list}`.slice(0, 60) },
    {
      kind: 'table',
      table: {
        columns: [
          { head: 'what', width: 60, look: letters.body },
          { head: 'cost', width: 16, align: 'end' },
          { head: '', width: 60 },
        ],
        rows: rows.map((row) => [...row, '']),
        rowMm: 4.6,
      },
    },
    ...(cost.missing.length === 0
      ? []
      : [{ kind: 'text', text: `No price, and in no sum: ${cost.missing.join('; ')}.` } as const]),
  ];
}

function quoteBlocks({ quotes }: OrderDocument): Block[] {
  if (quotes.length === 0) return [];
  return [
    { kind: 'heading', text: 'Quotes, without tax' },
    { kind: 'items', items: quotes.map((quote) => `${quoteWords(quote).join('; ')}.`) },
  ];
}
