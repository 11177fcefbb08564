import { describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../lib/drainage/answer/drainage-result';
import { localFrame, makeFrame, type XY } from '../../lib/frame/frame';
import { type PlanJson, save, tempFolder } from './inputs';
import { documentOf, expectRefused, lotfall } from './run-lotfall';

const at = tempFolder();
const frame = makeFrame(localFrame([-87.1, 42.51]));
const ring = (corners: readonly XY[]) => [[...corners, corners[0]].map((xy) => frame.toLngLat(xy))];

/** A yard of 30 by 24 m that falls to the south-east, with a hollow of a hand's depth at the wall of its house. */
const heightM = ([x, y]: XY): number =>
  20 - 0.02 * x + 0.01 * y - 0.2 * Math.exp(-((x - 12) ** 2 + (y - 10.5) ** 2) / 9);

const places: readonly XY[] = [
  ...[-1, 7, 15, 23, 31].flatMap((x) => [-1, 8, 17, 25].map((y): XY => [x, y])),
  [12, 10.5],
  [10, 10],
  [14, 10],
  [12, 8.5],
  [9, 9],
  [15.5, 9],
];

function yard(readings: (height: number, i: number) => object | null): PlanJson {
  const area = (id: string, kind: string, corners: readonly XY[], properties = {}) => ({
    type: 'Feature' as const,
    id,
    geometry: { type: 'Polygon', coordinates: ring(corners) },
    properties: { kind, ...properties },
  });
  return {
    type: 'FeatureCollection',
    lotfall: { version: 1, name: 'Tern Row 3', storm: { rain_mm: 30 }, soil: { group: 'C' } },
    features: [
      area(
        'lot',
        'lot',
        [
          [0, 0],
          [30, 0],
          [30, 24],
          [0, 24],
        ],
        { own: true, name: 'Tern Row 3' },
      ),
      area(
        'house',
        'building',
        [
          [8, 11],
          [19, 11],
          [19, 19],
          [8, 19],
        ],
        { foundation: 'slab' },
      ),
      area(
        'garden',
        'basin',
        [
          [22, 3],
          [27, 3],
          [27, 6],
          [22, 6],
        ],
        { ponding_depth_m: 0.15 },
      ),
      ...places.flatMap((xy, i) => {
        const properties = readings(heightM(xy), i);
        if (properties === null) return [];
        return [
          {
            type: 'Feature' as const,
            id: `spot-height-${i + 1}`,
            geometry: { type: 'Point', coordinates: frame.toLngLat(xy) },
            properties: { kind: 'spot-height', ...properties },
          },
        ];
      }),
    ],
  };
}

const drops = (height: number) => ({ drop_m: Math.round(100 * (21 - height)) / 100 });

describe('a plan with levels and no elevation', () => {
  const plan = save(at('yard.plan.geojson'), yard(drops));

  it('is drained on its levels, and says what that bears', async () => {
    const run = await lotfall('drainage', plan, '--json');
    expect(run.status).toBe(0);
    const result = documentOf(run) as DrainageResult;
    const [house] = result.buildings;
    expect(house.depth_m).toBeGreaterThan(0.05);
    expect(house.depth_m).toBeLessThan(0.25);
    expect(result.notes.join(' ')).toMatch(/made from 26 levels.*Duchon 1977/);
    expect(result.notes.join(' ')).toMatch(/Nothing is known beyond the outermost levels/);
    const words = await lotfall('drainage', plan);
    expect(words.stdout).toMatch(/Water stands by house/);
  });

  it('is judged, sited and designed on them', async () => {
    const setbacks = await lotfall('setbacks', plan, '--json');
    expect(setbacks.stdout).toMatch(/made from 26 levels/);
    const design = await lotfall('design', plan);
    expect(design.stdout).toMatch(/garden/);
    const sites = await lotfall('sites', plan);
    expect([0, 1]).toContain(sites.status);
    expect(sites.stdout).toMatch(/made from 26 levels/);
  });

  it('gives the same from heights as from drops below a string', async () => {
    const heights = save(
      at('heights.plan.geojson'),
      yard((height) => ({ elevation_m: Math.round(100 * height) / 100 })),
    );
    const [a, b] = await Promise.all(
      [plan, heights].map(
        async (each) => documentOf(await lotfall('drainage', each, '--json')) as DrainageResult,
      ),
    );
    expect(b.buildings[0].depth_m).toBeCloseTo(a.buildings[0].depth_m, 4);
    expect(b.ledger?.standing_m3).toBeCloseTo(a.ledger?.standing_m3 ?? Number.NaN, 4);
  });

  it('is refused in a sentence where they make no ground', async () => {
    const few = save(
      at('few.plan.geojson'),
      yard((height, i) => (i < 2 ? drops(height) : null)),
    );
    expectRefused(await lotfall('drainage', few), /no elevation is named.*three and more levels/);
    const zeros = save(
      at('zeros.plan.geojson'),
      yard((height, i) => (i < 9 ? drops(height) : { elevation_m: height })),
    );
    expectRefused(await lotfall('drainage', zeros), /zeros\.plan\.geojson: .*two zeros/);
  });
});
