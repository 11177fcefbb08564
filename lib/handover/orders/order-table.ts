import { csv } from '../../tables/write-csv';
import type { OrderList, OrderRow, SoldRow } from './order-list';

const columns = [
  'item',
  'use',
  'amount',
  'unit',
  'in_place_m3',
  'weight_from_kg',
  'weight_to_kg',
  'barrow_loads',
  'trailer_loads',
  'count',
  'sold_as',
  'size',
  'price',
  'cost',
  'note',
  'source',
] as const;

/** The whole order as CSV: things, hire, delivery, and the sums, one below the other. */
export function orderTable({ rows, hires, delivery, cost }: OrderList): string {
  const sums: readonly (readonly [string, number])[] =
    cost === null
      ? []
      : [
          ['sum without tax', cost.net],
          ['tax', cost.tax],
          ['total', cost.total],
          ['reserve', cost.reserve],
          ['to have ready', cost.ready],
        ];
  return csv([
    columns,
    ...rows.map(cellsOf),
    ...hires.map(({ item, days, cost: paid }) =>
      line(item, { use: 'hire', count: String(days), sold_as: 'day', cost: money(paid) }),
    ),
    ...(delivery === null
      ? []
      : [
          line('delivery', {
            use: 'bring',
            count: String(delivery.loads),
            sold_as: 'load',
            cost: money(delivery.cost),
          }),
        ]),
    ...sums.map(([name, sum]) => line(name, { use: 'sum', cost: money(sum) })),
  ]);
}

function cellsOf(row: OrderRow): string[] {
  const { buy } = row;
  return line(row.name, {
    use: row.use,
    amount: row.amount.toFixed(3),
    unit: row.unit,
    in_place_m3: figure(row.in_place_m3, 3),
    weight_from_kg: figure(row.weight_kg?.[0] ?? null, 0),
    weight_to_kg: figure(row.weight_kg?.[1] ?? null, 0),
    barrow_loads: figure(row.barrow_loads, 0),
    trailer_loads: figure(row.trailer_loads, 0),
    ...(buy === null ? {} : soldCells(buy)),
    note: row.note,
    source: row.source ?? '',
  });
}

function soldCells({ count, as, size, price, cost }: SoldRow): Cells {
  return {
    count: String(count),
    sold_as: as,
    size,
    price: price === null ? '' : money(price),
    cost: cost === null ? '' : money(cost),
  };
}

type Cells = Partial<Record<(typeof columns)[number], string>>;

function line(item: string, cells: Cells): string[] {
  return columns.map((column) => (column === 'item' ? item : (cells[column] ?? '')));
}

function figure(value: number | null, decimals: number): string {
  return value === null ? '' : value.toFixed(decimals);
}

function money(value: number): string {
  return value.toFixed(2);
}
