import { describe, expect, it } from 'vitest';
import { Cancelled } from '../../../../lib/errors';
import type { XY } from '../../../../lib/frame/frame';
import { areaM2, contains } from '../../../../lib/frame/shapes';
import { checkSetbacks } from '../../../../lib/setback/judge/check-setbacks';
import { ruleSetById } from '../../../../lib/setback/sets/rule-sets';
import { defaultWeights, scoreOf, scoreParts } from '../../../../lib/siting/sizing/score';
import { searchSites } from '../../../../lib/siting/search/search-sites';
import type { SitingInput } from '../../../../lib/siting/sizing/siting-input';
import type { CandidateSite } from '../../../../lib/siting/sizing/siting-result';
import type { RoofPart } from '../../../../lib/siting/water/catchments';
import { SearchedLot } from '../../../../lib/siting/sizing/searched-lot';
import type { Sized } from '../../../../lib/siting/sizing/sized-place';
import { planOf } from '../../setback/plan-of';
import { box, fallingSouth, inputOf, lotWithHouse, today } from '../sloping-lot';

const roof: RoofPart = { id: 'south-east', at: [26.3, 31.8], areaM2: 84 };

function wideLot(more: Partial<SitingInput> = {}): SitingInput {
  const plan = lotWithHouse(box(0, 0, 40, 50), box(12, 32, 26, 44), {
    id: 'oak',
    properties: { kind: 'tree', trunk_diameter_m: 0.3, canopy_radius_m: 4 },
    point: [20, 12],
  });
  return inputOf(plan, fallingSouth(-10, 60, 60, 70, 0.5, 0.03), [roof], more);
}

describe('searchSites', () => {
  it('gives up to eight ranked sites that break no binding rule and do not touch', async () => {
    const input = wideLot();
    const { sites } = await searchSites(input);
    expect(sites.length).toBeGreaterThan(4);
    expect(sites.length).toBeLessThanOrEqual(8);
    expect(sites.map((site) => site.rank)).toEqual(sites.map((_, i) => i + 1));
    const scores = sites.map((site) => site.score);
    expect(scores).toEqual([...scores].sort((a, b) => b - a));
    for (const site of sites) {
      const { summary } = checkSetbacks({
        plan: input.plan,
        basins: [{ id: 'b', rim: site.rim }],
        ruleSet: input.ruleSet,
        elevation: input.elevation,
        today,
      });
      expect(summary).toEqual(site.setbacks.summary);
      expect(summary.must_fail).toBe(0);
      expect(areaM2([site.rim])).toBeCloseTo(site.area_m2, 6);
    }
    for (const a of sites) {
      for (const b of sites) {
        if (a !== b) expect(b.rim.some((at) => contains([a.rim], at))).toBe(false);
      }
    }
  });

  it('sizes a site for what it catches there, by the factors', async () => {
    const { sites } = await searchSites(wideLot({ maxAreaM2: 60 }));
    // Silty soil on 3 %: a roof nearer than 30 ft 0.34, one farther and everything else 0.06.
    const led = sites.filter((site) => site.led.length > 0);
    expect(led.length).toBeGreaterThan(0);
    for (const site of led) {
      const factor = site.led[0].distance_m < 9.144 ? 0.34 : 0.06;
      expect(site.wanted_m2).toBeCloseTo(84 * factor + site.by_itself_m2 * 0.06, 6);
      expect(site.catches_m2).toBeCloseTo(84 + site.by_itself_m2, 6);
    }
    for (const site of sites) {
      expect(site.area_m2).toBeLessThanOrEqual(60);
      expect(site.captured_m3).toBeCloseTo(Math.min(site.bowl_m3, 0.0254 * site.catches_m2), 9);
    }
  });

  it('leads a roof only downhill, within reach, and not through the house', async () => {
    const { sites } = await searchSites(wideLot());
    for (const led of sites.flatMap((site) => site.led)) {
      expect(led.distance_m).toBeLessThanOrEqual(15);
      expect(led.fall_ratio).toBeGreaterThanOrEqual(0.01);
    }
    expect(sites.some((site) => site.led.length > 0)).toBe(true);
    const none = await searchSites(wideLot({ leadM: 0 }));
    expect(none.sites.every((site) => site.led.length === 0)).toBe(true);
  });

  it('says that nowhere complies, with the rule that binds, on a lot too narrow for the lot line', async () => {
    const plan = lotWithHouse(box(0, 0, 40, 6), box(5, 1, 9, 5));
    const result = await searchSites(inputOf(plan, fallingSouth(-5, 12, 50, 18, 0.5, 0.03), []));
    expect(result.sites).toEqual([]);
    expect(result.allowed_m2).toBe(0);
    expect(result.refused[0]).toMatchObject({ rule: 'lot-line', area_m2: 240 });
    expect(result.notes).toEqual([
      {
        code: 'nowhere',
        text: expect.stringContaining('Lot line (refuses 100 % of the lot)') as string,
      },
    ]);
  });

  it('says that nothing fits where the rules leave only a strip', async () => {
    const plan = planOf({
      id: 'lot',
      properties: { kind: 'lot', own: true },
      rings: [box(0, 0, 40, 7.3)],
    });
    const result = await searchSites(inputOf(plan, fallingSouth(-5, 12, 50, 18, 0.5, 0.03), []));
    expect(result.sites).toEqual([]);
    expect(result.notes[0].code).toBe('does-not-fit');
    expect(result.allowed_m2).toBeGreaterThan(0);
  });

  it('finds the one place there is', async () => {
    // The rules leave a square of 5.9 m; a round basin of 26.5 m2 is 5.81 m wide.
    const plan = planOf({
      id: 'lot',
      properties: { kind: 'lot', own: true },
      rings: [box(0.25, 0.25, 12.25, 12.25)],
    });
    const grid = fallingSouth(-5, 20, 30, 30, 0.5, 0.03);
    const { sites } = await searchSites(
      inputOf(plan, grid, [], { minAreaM2: 26.5, maxAreaM2: 26.5 }),
    );
    expect(sites).toHaveLength(1);
    // Room is left for five centimetres either way, and for all but a round one not even that.
    expect(Math.abs(sites[0].at[0] - 6.25)).toBeLessThan(0.06);
    expect(Math.abs(sites[0].at[1] - 6.25)).toBeLessThan(0.06);
    expect(sites[0].aspect).toBeLessThan(1.05);
  });

  it('gives up the one place there is when something small lies in it', async () => {
    const plan = planOf(
      {
        id: 'lot',
        properties: { kind: 'lot', own: true },
        rings: [box(0.25, 0.25, 12.25, 12.25)],
      },
      {
        id: 'stub',
        properties: { kind: 'wall' },
        line: [
          [8.4, 6.2],
          [8.5, 6.3],
        ],
      },
    );
    const grid = fallingSouth(-5, 20, 30, 30, 0.5, 0.03);
    const { sites, notes } = await searchSites(
      inputOf(plan, grid, [], { minAreaM2: 26.5, maxAreaM2: 26.5 }),
    );
    expect(sites).toEqual([]);
    expect(notes[0]).toMatchObject({ code: 'does-not-fit' });
    expect(notes[0].text).toContain('Not over paving');
  });

  it('does no worse than trying every cell with every outline', async () => {
    const plan = lotWithHouse(box(0, 0, 18, 24), box(4, 14, 14, 22));
    const grid = fallingSouth(-5, 30, 30, 40, 0.5, 0.04);
    const input = inputOf(plan, grid, [{ id: 'r', at: [14.2, 13.8], areaM2: 80 }]);
    const { sites } = await searchSites(input);
    const searched = new SearchedLot(input);
    const all: Sized[] = [];
    const { mesh } = searched.forbidden;
    const { columns, rows } = mesh;
    for (let row = 0; row < rows; row += 2) {
      for (let column = 0; column < columns; column += 2) {
        if (!searched.isAllowed(row * columns + column)) continue;
        const at: XY = [
          mesh.westM + (column + 0.5) * mesh.cellM,
          mesh.northM - (row + 0.5) * mesh.cellM,
        ];
        for (const outline of searched.outlines) {
          const found = searched.size(at, outline);
          if (found.fits) all.push(found);
        }
      }
    }
    expect(all.length).toBeGreaterThan(100);
    const most = Math.max(...all.map((each) => each.scored.capturedM3));
    const best = Math.max(
      ...all.map((each) => scoreOf(scoreParts(each.scored, most), defaultWeights)),
    );
    // The search measures what is caught by its own best, which must be as good.
    expect(sites[0].score).toBeGreaterThan(0.97 * best);
    expect(Math.max(...sites.map((site) => site.captured_m3))).toBeGreaterThan(0.95 * most);
  });

  it('keeps away from wet ground on slow soil', async () => {
    const dry = wideLot({ soil: 'clayey' });
    const [best] = (await searchSites(dry)).sites;
    const grid = dry.elevation;
    const standingDepthM = Float32Array.from(grid.z, (_, i) => {
      const x = grid.westM + ((i % grid.width) + 0.5) * grid.cellM;
      const y = grid.northM - (Math.floor(i / grid.width) + 0.5) * grid.cellM;
      return Math.hypot(x - best.at[0], y - best.at[1]) < 5 ? 0.2 : 0;
    });
    const wet = (await searchSites({ ...dry, standingDepthM })).sites[0];
    expect(wet.score).toBeLessThan(best.score);
    expect(Math.hypot(wet.at[0] - best.at[0], wet.at[1] - best.at[1])).toBeGreaterThan(3);
    expect(wet.parts.dryness).toBeGreaterThan(0.8);
  });

  it('follows the weights', async () => {
    const weights = {
      caught: 0,
      margin: 1,
      slope: 0,
      digging: 0,
      downspout: 0,
      dryness: 0,
      recommended: 0,
    };
    const { sites } = await searchSites(wideLot({ weights }));
    expect(sites[0].score).toBe(sites[0].parts.margin);
    expect(sites[0].parts.margin).toBeGreaterThan(0.95);
  });

  it('gives the drain-down time of a known infiltration, and null of an unknown one', async () => {
    const known = await searchSites(wideLot({ infiltrationMPerS: 0.1016 / 36_000 }));
    expect(known.sites[0].drain_down_h).toBeCloseTo(10, 9);
    expect((await searchSites(wideLot())).sites[0].drain_down_h).toBeNull();
  });

  it('refuses cells coarser than 5 m and warns of those coarser than 2 m', async () => {
    const plan = lotWithHouse(box(0, 0, 40, 50), box(12, 32, 26, 44));
    const coarse = await searchSites(inputOf(plan, fallingSouth(-12, 66, 66, 78, 6, 0.03), []));
    expect(coarse.sites).toEqual([]);
    expect(coarse.notes[0].code).toBe('cells-too-coarse');
    const rough = await searchSites(inputOf(plan, fallingSouth(-12, 66, 66, 78, 3, 0.03), []));
    expect(rough.notes.map((note) => note.code)).toContain('cells-coarse');
    expect(rough.sites.length).toBeGreaterThan(0);
  });

  it('keeps what cannot be judged, and shows it', async () => {
    const { sites } = await searchSites(wideLot());
    expect(sites[0].setbacks.summary.check).toBeGreaterThan(0);
  });

  it('streams better and better sites, and stops when asked to', async () => {
    const seen: (readonly CandidateSite[])[] = [];
    const fractions: number[] = [];
    const result = await searchSites(wideLot(), {
      onSites: (sites) => seen.push(sites),
      onProgress: (fraction) => fractions.push(fraction),
    });
    expect(seen.length).toBeGreaterThan(10);
    expect(seen[0].length).toBe(1);
    expect(seen[seen.length - 1][0].captured_m3).toBeGreaterThan(0);
    expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
    expect(result.sites.length).toBeGreaterThan(0);

    const controller = new AbortController();
    const stopped = searchSites(wideLot(), {
      signal: controller.signal,
      onSites: () => {
        controller.abort();
      },
    });
    await expect(stopped).rejects.toBeInstanceOf(Cancelled);
  });

  it('works under every rule set', async () => {
    for (const id of [
      'minnesota',
      'western-washington',
      'new-jersey',
      'mississauga',
      'strictest',
    ]) {
      const result = await searchSites(wideLot({ ruleSet: ruleSetById(id) }));
      expect(result.sites.length, id).toBeGreaterThan(0);
    }
  });
});
