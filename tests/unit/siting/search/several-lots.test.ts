import { describe, expect, it } from 'vitest';
import type { XY } from '../../../../lib/frame/frame';
import { contains } from '../../../../lib/frame/shapes';
import { searchSites } from '../../../../lib/siting/search/search-sites';
import type { RoofPart } from '../../../../lib/siting/water/catchments';
import { planOf, type Drawn } from '../../setback/plan-of';
import { box, fallingSouth, inputOf } from '../sloping-lot';

function lot(id: string, ring: readonly XY[], own = true): Drawn {
  return { id, properties: { kind: 'lot', own, name: `Lot ${id}` }, rings: [ring] };
}

const west = box(0, 0, 18, 24);
const east = box(18, 0, 36, 24);
const far = box(60, 0, 78, 24);
const elevation = fallingSouth(-6, 30, 96, 36, 0.5, 0.02);

describe('several own lots', () => {
  it('are all searched, and each place says on which it lies', async () => {
    const { sites, lot_m2 } = await searchSites(
      inputOf(planOf(lot('a', west), lot('b', far)), elevation, []),
    );
    expect(lot_m2).toBeCloseTo(2 * 18 * 24, 6);
    expect(new Set(sites.map((site) => site.lot))).toEqual(new Set(['a', 'b']));
    for (const site of sites) {
      const ring = site.lot === 'a' ? west : far;
      expect(site.rim.every((at) => contains([ring], at))).toBe(true);
    }
  });

  it('are not searched where they are a neighbour’s, nor across the line between two', async () => {
    const plan = planOf(lot('a', west), lot('b', east), lot('n', far, false));
    const { sites, allowed_m2 } = await searchSites(inputOf(plan, elevation, []));
    expect(sites.every((site) => site.lot !== 'n')).toBe(true);
    // The line between the two is kept clear of on either side.
    expect(allowed_m2).toBeCloseTo(2 * (18 - 2 * 3.048) * (24 - 2 * 3.048), -1.3);
    for (const site of sites) expect(Math.abs(site.at[0] - 18)).toBeGreaterThan(3.048);
  });

  it('of which one has no room say so', async () => {
    const plan = planOf(lot('a', west), lot('strip', box(40, 0, 46, 24)));
    const { sites, notes } = await searchSites(inputOf(plan, elevation, []));
    expect(sites.length).toBeGreaterThan(0);
    expect(notes.filter(({ code }) => code === 'lot-without-place')).toEqual([
      { code: 'lot-without-place', text: expect.stringContaining('Lot strip') as string },
    ]);
  });

  it('lead the roofs of each, but none over a neighbour’s ground', async () => {
    const roofs: RoofPart[] = [
      { id: 'on-a', at: [4, 20], areaM2: 60 },
      { id: 'on-n', at: [64, 20], areaM2: 60 },
    ];
    const plan = planOf(lot('a', west), lot('n', far, false));
    const { sites } = await searchSites(inputOf(plan, elevation, roofs));
    const led = new Set(sites.flatMap((site) => site.led.map(({ roof }) => roof)));
    expect(led.has('on-n')).toBe(false);
    expect(led.has('on-a')).toBe(true);
  });
});
