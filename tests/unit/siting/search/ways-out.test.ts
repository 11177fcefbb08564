import { describe, expect, it } from 'vitest';
import { largestBasin } from '../../../../lib/siting/search/largest-basin';
import { searchSites } from '../../../../lib/siting/search/search-sites';
import { SearchedLot } from '../../../../lib/siting/sizing/searched-lot';
import type { SitingInput } from '../../../../lib/siting/sizing/siting-input';
import { planOf, type Drawn } from '../../setback/plan-of';
import { box, fallingSouth, inputOf } from '../sloping-lot';

/** A strip of a lot, 40 m long; the lot line keeps 3.048 m clear on either side. */
function strip(widthM: number, ...more: Drawn[]): SitingInput {
  const plan = planOf(
    { id: 'lot', properties: { kind: 'lot', own: true }, rings: [box(0, 0, 40, widthM)] },
    ...more,
  );
  return inputOf(plan, fallingSouth(-5, 20, 50, 30, 0.5, 0.03), []);
}

const keepsM = 3.048;

describe('largestBasin', () => {
  it('fills the strip that the rules leave, to a cell', () => {
    const widthM = 8.25;
    const found = largestBasin(new SearchedLot(strip(widthM)));
    const openM = widthM - 2 * keepsM;
    const across = found?.rim.map(([, y]) => y) ?? [];
    const highM = Math.max(...across) - Math.min(...across);
    expect(highM).toBeLessThanOrEqual(openM + 1e-6);
    expect(highM).toBeGreaterThan(openM - 0.5);
    expect(found?.outline.aspect).toBeGreaterThan(1.4);
  });

  it('finds none where none is, and none larger than is allowed', () => {
    expect(largestBasin(new SearchedLot(strip(6)))).toBeNull();
    const wide = largestBasin(new SearchedLot({ ...strip(30), maxAreaM2: 8 }));
    expect(wide?.areaM2).toBeGreaterThan(8 / 1.031);
    expect(wide?.areaM2).toBeLessThanOrEqual(8);
  });
});

describe('ways out of a lot without a place', () => {
  it('of a lot too narrow everywhere: only without the rule that closes it', async () => {
    const { sites, ways_out } = await searchSites(strip(6));
    expect(sites).toHaveLength(0);
    expect(ways_out.map(({ kind, rule }) => [kind, rule])).toEqual([['without-rule', 'lot-line']]);
    expect(ways_out[0].area_m2).toBeGreaterThan(4.65);
    expect(ways_out[0].freed_m2).toBeGreaterThan(200);
    expect(ways_out[0].text).toContain('Lot line');
  });

  it('of a lot that leaves a strip: a smaller garden, or two', async () => {
    const input = strip(7.3);
    const { sites, ways_out } = await searchSites(input);
    expect(sites).toHaveLength(0);
    const [one, two] = ways_out;
    expect(one.kind).toBe('smaller');
    expect(one.area_m2).toBeGreaterThan(1);
    expect(one.area_m2).toBeLessThan(4.65);
    expect(two.kind).toBe('two-smaller');
    expect(two.area_m2).toBeGreaterThan(one.area_m2);
    const searched = new SearchedLot(input);
    for (const rim of two.rims) expect(searched.check(rim, 0.1).summary.must_fail).toBe(0);
  });

  it('of a lot that lines close: what locating them could free at most', async () => {
    const line = (id: string, y: number): Drawn => ({
      id,
      properties: { kind: 'utility', service: 'communications', side: 'private' },
      line: [
        [0, y],
        [40, y],
      ],
    });
    const { sites, ways_out } = await searchSites(
      strip(12, line('one', 4.5), line('two', 6), line('three', 7.5)),
    );
    expect(sites).toHaveLength(0);
    const located = ways_out.find(({ kind }) => kind === 'locates');
    expect(located?.area_m2).toBeGreaterThan(4.65);
    expect(located?.freed_m2).toBeGreaterThan(50);
  });

  it('is not asked where there is a place', async () => {
    const { sites, ways_out } = await searchSites(strip(20));
    expect(sites.length).toBeGreaterThan(0);
    expect(ways_out).toEqual([]);
  });
});
