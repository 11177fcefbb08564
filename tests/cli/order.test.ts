import { writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { demoElevation, demoPlan, readDemoPlan, save, tempFolder } from './inputs';
import { expectRefused, lotfall, lotfallBoth } from './run-lotfall';

const at = tempFolder();
const prices = new URL('../../fixtures/demo/prices.csv', import.meta.url).pathname;

describe('lotfall order', () => {
  it('orders the demo by its invented prices, and says that they are', async () => {
    const { json, words } = await lotfallBoth(
      at('order.txt'),
      ...['order', demoPlan, '--elevation', demoElevation, '--prices', prices],
    );
    const order = JSON.parse(json.stdout) as {
      rows: { name: string; amount: number; in_place_m3: number | null }[];
      cost: { net: number; tax: number; missing: string[] };
      ten_percent_more: { rows: { name: string; more: number }[]; more_total: number };
    };
    const mulch = order.rows.find(({ name }) => name === 'mulch');
    // the layer of the plan, 7.5 cm under the rim's area, and a twentieth more
    expect(mulch?.amount).toBeCloseTo(1.05 * (mulch?.in_place_m3 ?? 0), 9);
    expect(order.cost.missing).toEqual([]);
    expect(order.cost.tax).toBeCloseTo(0.19 * order.cost.net, 9);
    const more = order.ten_percent_more.rows.find(({ name }) => name === 'mulch');
    expect(more?.more).toBeCloseTo(0.1 * (mulch?.amount ?? 0), 6);
    expect(order.ten_percent_more.more_total).toBeGreaterThan(0);
    expect(words.stdout).toMatch(/invented prices/);
    expect(words.stdout).toMatch(/A tenth more garden takes/);
  });

  it('reckons with what the plan says of its earth', async () => {
    const demo = readDemoPlan();
    demo.lotfall['earth'] = { swell: 0, order_more: { mulch: 0 } };
    const plan = save(at('earth.plan.geojson'), demo);
    const run = await lotfall('order', plan, '--elevation', demoElevation, '--json');
    const { rows } = JSON.parse(run.stdout) as {
      rows: { name: string; amount: number; in_place_m3: number }[];
    };
    for (const name of ['cut', 'mulch']) {
      const row = rows.find((each) => each.name === name);
      expect(row?.amount).toBeCloseTo(row?.in_place_m3 ?? 0, 9);
    }
  });

  it('orders the plants of a list as they are laid out', async () => {
    const plants = at('plants.csv');
    writeFileSync(plants, 'name,zone,spread\nIris versicolor,deep,60 cm\n');
    const call = [demoPlan, '--elevation', demoElevation];
    const [order, laid] = await Promise.all([
      lotfall('order', ...call, '--plants', plants, '--prices', prices, '--json'),
      lotfall('plants', ...call, '--list', plants, '--json'),
    ]);
    const { rows } = JSON.parse(order.stdout) as {
      rows: { name: string; amount: number; buy: { price: number } }[];
    };
    const { basins } = JSON.parse(laid.stdout) as { basins: { count: number }[] };
    const row = rows.find(({ name }) => name === 'plants, Iris versicolor');
    expect(row?.amount).toBe(basins[0].count);
    expect(row?.buy.price).toBe(4.2);
    expect(rows.filter(({ name }) => name.startsWith('plants'))).toHaveLength(1);
  });

  it('refuses what it cannot use in one sentence', async () => {
    const list = at('list.csv');
    writeFileSync(list, 'what,how\nmulch,bag');
    const refused = await Promise.all([
      lotfall('order', demoPlan, '--elevation', demoElevation, '--prices', list),
      lotfall('order', demoPlan, '--elevation', demoElevation, '--payload', 'heavy'),
      lotfall('order', demoPlan, '--elevation', demoElevation, '--quotes', prices),
    ]);
    expectRefused(refused[0], /list\.csv, line 1: a price list has no column/);
    expectRefused(refused[1], /'heavy' is no weight/);
    expectRefused(refused[2], /columns from/);
  });
});
