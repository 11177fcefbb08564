import { describe, expect, it } from 'vitest';
import { barrowLoads, loadsByWeight } from '../../../lib/handover/orders/loads';
import { together, type Need } from '../../../lib/handover/orders/needs';
import { orderList } from '../../../lib/handover/orders/order-list';
import { orderTable } from '../../../lib/handover/orders/order-table';
import { readPriceList } from '../../../lib/handover/orders/price-list';
import { compareQuotes, readQuotes } from '../../../lib/handover/orders/quotes';
import { densityOf } from '../../../lib/handover/orders/weights';
import { cubicYardM3, poundKg } from '../../../lib/units/units';

function need(name: string, amount: number, more: Partial<Need> = {}): Need {
  return {
    name,
    use: 'buy',
    amount,
    unit: 'm3',
    inPlaceM3: amount,
    weightKg: null,
    weightSource: null,
    note: '',
    source: null,
    ...more,
  };
}

const listOf = (...lines: readonly string[]) =>
  readPriceList(['item,sold as,size,unit,price,count', ...lines].join('\n'), 'prices.csv');

const order = (needs: readonly Need[], ...lines: readonly string[]) =>
  orderList(needs, { system: 'metric', prices: listOf(...lines) });

describe('loads', () => {
  it('are the barrow-loads to a cubic yard that are published: 9 of 3 ft3, 4.5 of 6 ft3', () => {
    expect(barrowLoads(cubicYardM3, 1500)).toBeCloseTo(9, 9);
    expect(barrowLoads(cubicYardM3, 300)).toBeCloseTo(4.5, 9);
  });

  it('of a trailer are whole ones, and not one more for a rounding', () => {
    expect(loadsByWeight(2250, 750)).toBe(3);
    expect(loadsByWeight(2251, 750)).toBe(4);
    expect(loadsByWeight(0.3 * 750 * 10, 750)).toBe(3);
  });

  it('weigh what a cubic yard of topsoil does, moist to soaked', () => {
    const [from, to] = densityOf('topsoil')?.kgPerM3 ?? [0, 0];
    expect((from * cubicYardM3) / poundKg).toBeCloseTo(1836, 6);
    expect((to * cubicYardM3) / poundKg).toBeCloseTo(2700, 6);
    expect(densityOf('edging')).toBeNull();
  });
});

describe('an order', () => {
  it('takes whole ones of the cheapest form, and lists the others', () => {
    const [row] = order([need('mulch', 1.01)], 'mulch,bag,50,L,7.50', 'mulch,bulk,0.5,m3,29').rows;
    expect(row.buy).toMatchObject({ as: 'bulk', count: 3, brings: 1.5, cost: 87 });
    expect(row.or).toMatchObject([{ as: 'bag', count: 21, cost: 157.5 }]);
  });

  it('reckons what is sold by weight by the soaked weight', () => {
    const sand = need('coarse sand', 2, { weightKg: [3000, 3500] });
    const [row] = order([sand], 'coarse sand,bulk,1,t,30').rows;
    expect(row.buy).toMatchObject({ count: 4, cost: 120 });
    expect(row.buy?.brings).toBeCloseTo(4 / 1.75, 9);
  });

  it('adds hire, delivery of what is loose, tax on all of it, and keeps a reserve back', () => {
    const { cost, delivery, hires } = order(
      [need('mulch', 4), need('cut', 9, { use: 'move' })],
      'mulch,bulk,1,m3,30',
      'roller,day,,,50,2',
      'delivery,load,3,m3,40',
      'tax,%,,%,20',
      'reserve,%,,%,10',
      'gravel,bulk,1,m3,20',
    );
    expect(delivery).toEqual({ loads: 2, cost: 80 });
    expect(hires).toEqual([{ item: 'roller', days: 2, cost: 100 }]);
    expect(cost).toMatchObject({ net: 300, tax: 60, total: 360, missing: [], unused: ['gravel'] });
    expect(cost?.ready).toBeCloseTo(396, 9);
  });

  it('names what has no price, and what is sold in no form that measures it', () => {
    const { cost, notes } = order(
      [need('mulch', 1), need('edging', 20, { unit: 'm' })],
      'edging,bag,50,L,7',
    );
    expect(cost).toMatchObject({ net: 0, missing: ['mulch', 'edging'] });
    expect(notes.join(' ')).toMatch(/sells edging in no form that measures m/);
  });

  it('finds plants of every zone under one name of the list', () => {
    const { rows } = order(
      [need('plants, deep zone', 12, { unit: 'piece' })],
      'plants,tray,6,piece,20',
    );
    expect(rows[0].buy).toMatchObject({ count: 2, cost: 40 });
  });

  it('takes forms that are common practice without a list, bags while they are few', () => {
    const { rows, cost } = orderList([need('mulch', 0.2), need('topsoil', 3)], {
      system: 'us',
      payloadKg: 700,
    });
    expect(rows.map(({ buy }) => [buy?.as, buy?.source])).toEqual([
      ['bag', 'common practice, no source'],
      ['bulk', 'common practice, no source'],
    ]);
    expect(cost).toBeNull();
  });

  it('sums gardens of one job before it rounds', () => {
    const [one] = together([[need('mulch', 0.3)], [need('mulch', 0.3)]]);
    expect(order([one], 'mulch,bulk,0.6,m3,29').rows[0].buy?.count).toBe(1);
  });

  it('goes out as CSV, sums below the rows', () => {
    const lines = orderTable(order([need('mulch', 1)], 'mulch,bulk,1,m3,30', 'tax,%,,%,10'))
      .trimEnd()
      .split('\r\n');
    expect(lines[1]).toBe('mulch,buy,1.000,m3,1.000,,,,,1,bulk,1 m3,30.00,30.00,,');
    expect(lines.find((line) => line.startsWith('total'))).toMatch(/,33\.00,/);
  });
});

describe('a price list', () => {
  it('is refused in one sentence that names line and remedy', () => {
    expect(() => readPriceList('thing,cost\nmulch,3', 'p.csv')).toThrow(
      /^p\.csv, line 1: a price list has no column 'item', 'sold as', 'size', 'unit', 'price'; its headings are 'thing', 'cost'; name its columns [^.]*\.$/,
    );
    expect(() => listOf('mulch,bag,50,stone,3')).toThrow(
      /^prices\.csv, line 2: 'stone' is no unit/,
    );
    expect(() => listOf('mulch,bag,50,L,cheap')).toThrow(/'cheap' under 'price' is no number/);
    expect(() => listOf('mulch,bag,50,L,')).toThrow(/'mulch' has no price/);
    expect(() => listOf('mulch,bag,50,L,-3')).toThrow(/below zero/);
    expect(() => listOf('tax,piece,1,piece,19')).toThrow(/give it as '%'/);
  });

  it('may have decimal commas between semicolons', () => {
    const { forms } = readPriceList(
      'Item;Sold as;Size;Unit;Price\nMulch;bag;50;L;7,50',
      'prices.csv',
    );
    const [bag] = forms.get('mulch') ?? [];
    expect(bag.size).toBeCloseTo(0.05, 12);
    expect(bag.price).toBe(7.5);
  });
});

describe('quotes', () => {
  it('stand beside the same things of the order', () => {
    const made = order(
      [need('mulch', 1), need('topsoil', 2)],
      'mulch,bulk,1,m3,30',
      'topsoil,bulk,1,m3,40',
    );
    const offers = readQuotes(
      'from,item,price\nYard,mulch,25\nYard,fence,90\nDigger,everything,150',
      'quotes.csv',
    );
    expect(compareQuotes(offers, made)).toEqual([
      {
        from: 'Yard',
        quoted: 25,
        reckoned: 30,
        difference: -5,
        not_quoted: ['topsoil'],
        not_reckoned: ['fence'],
      },
      {
        from: 'Digger',
        quoted: 150,
        reckoned: 110,
        difference: 40,
        not_quoted: [],
        not_reckoned: [],
      },
    ]);
    expect(() => readQuotes('from,item,price\n,mulch,3', 'q.csv')).toThrow(/needs who makes it/);
  });
});
