import { describe, expect, it } from 'vitest';
import { localFrame, makeFrame, type XY } from '../../../lib/frame/frame';
import { earthAtWalls } from '../../../lib/paper/earth-at-walls';
import { flowOf, lineFall, stationOn, type LevelOnLine } from '../../../lib/paper/line-fall';
import { linesOnPaper } from '../../../lib/paper/lines-on-paper';
import { onPaper } from '../../../lib/paper/on-paper';
import { toLocal, type LocalPlan } from '../../../lib/plan/local-plan';
import { readPlan } from '../../../lib/plan/read-plan';

const frame = makeFrame(localFrame([-87.1, 42.51]));

interface Drawn {
  readonly id: string;
  readonly at: readonly XY[];
  readonly properties: Readonly<Record<string, unknown>>;
}

function planOf(features: readonly Drawn[], lotfall: object = {}): LocalPlan {
  const document = {
    type: 'FeatureCollection',
    lotfall: { version: 1, ...lotfall },
    features: features.map(({ id, at, properties }) => {
      const places = at.map((xy) => frame.toLngLat(xy));
      const isLine = ['swale', 'drain-pipe'].includes(String(properties.kind));
      const geometry =
        at.length === 1
          ? { type: 'Point', coordinates: places[0] }
          : isLine
            ? { type: 'LineString', coordinates: places }
            : { type: 'Polygon', coordinates: [[...places, places[0]]] };
      return { type: 'Feature', id, geometry, properties };
    }),
  };
  return toLocal(readPlan(JSON.stringify(document), 'p').plan, frame);
}

const square = (west: number, south: number, wide: number, high: number): XY[] => [
  [west, south],
  [west + wide, south],
  [west + wide, south + high],
  [west, south + high],
];
const lot: Drawn = { id: 'lot', at: square(0, 0, 40, 40), properties: { kind: 'lot', own: true } };
const house: Drawn = {
  id: 'house',
  at: square(15, 15, 10, 8),
  properties: { kind: 'building', foundation: 'slab' },
};
const level = (at_m: number, height_m: number): LevelOnLine => ({
  name: `at ${at_m}`,
  at_m,
  height_m,
  accuracy_m: 0.01,
});

describe('earth for the fall at walls', () => {
  it('is a wedge along the walls and a cone round the corners', () => {
    // 6 in over 10 ft: 36 m of wall times half of 3.048 by 0.1524, and a whole cone of the corners' quarters.
    const wedge = (36 * 3.048 * 0.1524) / 2;
    const cone = (Math.PI * 3.048 ** 2 * 0.1524) / 3;
    const [row] = earthAtWalls(planOf([lot, house]));
    expect(row.if_level_m3 / (wedge + cone)).toBeCloseTo(1, 2);
    expect(row.beyond_lot_m2).toBe(0);
    expect(row.more_for_each_percent_m3).toBeCloseTo(row.if_level_m3 / 5, 6);
  });

  it('ends at the lot line and at other walls', () => {
    const near = { ...house, at: square(1, 15, 10, 8) };
    const shed = { id: 'shed', at: square(11, 15, 5, 8), properties: { kind: 'building' } };
    const [alone] = earthAtWalls(planOf([lot, house]));
    const [row] = earthAtWalls(planOf([lot, near, shed]));
    expect(row.beyond_lot_m2).toBeGreaterThan(15);
    expect(row.if_level_m3).toBeLessThan(0.8 * alone.if_level_m3);
  });
});

describe('the fall along a line', () => {
  it('says which end is lower, and none within the doubt of the levels', () => {
    expect(lineFall(20, [level(0, 1), level(20, 0.6)], 0)).toMatchObject({
      fall_m: 0.4,
      slope: 0.02,
      lower_end: 'last',
      hump_m: 0,
    });
    expect(lineFall(20, [level(20, 1), level(0, 0.6)], 0).lower_end).toBe('first');
    expect(lineFall(20, [level(0, 1), level(20, 0.99)], 0).lower_end).toBe('none');
    expect(lineFall(20, [level(0, 1), level(10, 1), level(20, 0.6)], 0).hump_m).toBeCloseTo(0.2, 9);
  });

  it('takes the least pipe, whose end must come to daylight', () => {
    // A foot of cover and 4 in of pipe need 0.4064 m, and 1/96 over 30 m another 0.3125 m.
    const flow = flowOf(186, 100);
    const fits = lineFall(30, [level(0, 1), level(30, 1 - 0.72)], flow).pipe;
    expect(fits).toMatchObject({ fits: true, short_by_m: 0 });
    expect(fits.size_m).toBeCloseTo(0.1016, 4);
    expect(fits.carries_l_per_s).toBeGreaterThan(5.17);
    const short = lineFall(30, [level(0, 1), level(30, 1 - 0.5)], flow).pipe;
    expect(short.fits).toBe(false);
    expect(short.short_by_m).toBeCloseTo(0.4064 + 0.3125 - 0.5, 4);
  });

  it('takes the least swale along ground that falls enough', () => {
    // Bed 0.6 m, 3 to 1, 10 cm deep at 2 % and n 0.05 carries 44.5 l/s.
    const { swale } = lineFall(20, [level(0, 1), level(20, 0.6)], 0.0444);
    expect(swale).toMatchObject({ fits: true, size_m: 0.1 });
    expect(swale.carries_l_per_s).toBeCloseTo(44.5, 1);
    expect(lineFall(20, [level(0, 1), level(20, 0.6)], 0.06).swale.size_m).toBe(0.15);
    const flat = lineFall(20, [level(0, 1), level(20, 0.9)], 0).swale;
    expect(flat.fits).toBe(false);
    expect(flat.short_by_m).toBeCloseTo(0.1, 9);
  });

  it('finds places along a bent line', () => {
    const bent: XY[] = [
      [0, 0],
      [10, 0],
      [10, 5],
    ];
    expect(stationOn(bent, [10.5, 3])).toEqual({ atM: 13, offM: 0.5 });
  });
});

describe('a plan on paper', () => {
  const plan = planOf(
    [
      lot,
      house,
      { id: 'roof', at: square(15, 15, 10, 10), properties: { kind: 'roof' } },
      { id: 'a', at: [[15, 15]], properties: { kind: 'downspout', roof: 'roof', share: 0.25 } },
      { id: 'b', at: [[25, 15]], properties: { kind: 'downspout', roof: 'roof' } },
      { id: 'drive', at: square(30, 0, 5, 10), properties: { kind: 'surface', cover: 'paving' } },
      { id: 'lawn', at: square(0, 0, 5, 10), properties: { kind: 'surface', cover: 'lawn' } },
      {
        id: 'hole',
        at: [[5, 5]],
        properties: {
          kind: 'soil-test',
          fillings: [
            { water_depth_m: 0.3, hours: 20 },
            { water_depth_m: 0.3, hours: 20, left_m: 0.15 },
          ],
        },
      },
      { id: 'high', at: [[15, 14]], properties: { kind: 'spot-height', drop_m: 0.2 } },
      { id: 'low', at: [[15, 2]], properties: { kind: 'spot-height', drop_m: 1 } },
      {
        id: 'pipe',
        at: [
          [15, 14],
          [15, 2],
        ],
        properties: { kind: 'drain-pipe' },
      },
    ],
    { soil: { texture: 'silty' }, storm: { rain_mm: 25.4 } },
  );
  const answer = onPaper(plan, 'p');

  it('sizes by the published factors and by holding the rain', () => {
    const { rows, total, holds_rain_m2 } = answer.size;
    expect(rows.map(({ feature, drains_m2 }) => [feature, Math.round(drains_m2)])).toEqual([
      ['a', 25],
      ['b', 75],
      ['drive', 50],
    ]);
    expect(total?.garden_m2.shallow).toBeCloseTo(0.34 * 150, 2);
    expect(total?.garden_m2.far).toBeCloseTo(0.06 * 150, 2);
    // An inch on 150 m2 stands 4 in deep on a quarter of it.
    expect(holds_rain_m2?.shallow).toBeCloseTo(37.5, 2);
  });

  it('goes by the last filling of the hole', () => {
    const [hole] = answer.holes;
    expect(hole.fillings.map(({ empty_after_h }) => empty_after_h)).toEqual([20, 40]);
    expect(hole.empty_after_h).toBe(40);
    expect(hole.limits.map(({ result }) => result)).toEqual(['fail', 'pass', 'pass']);
    expect(hole.drains).toBe('poor');
    // 15 cm in 20 h are 18 cm in a day.
    expect(hole.depth_by_handout_m).toBeCloseTo(0.18, 9);
    expect(hole.notes.join(' ')).toMatch(/2\.0 times as long/);
  });

  it('follows the pipe and the way from the highest level to the lowest', () => {
    expect(answer.lines.map(({ feature, lower_end }) => [feature, lower_end])).toEqual([
      ['pipe', 'last'],
      [null, 'last'],
    ]);
    expect(answer.lines[0].fall_m).toBeCloseTo(0.8, 9);
    expect(answer.cannot_say.map(({ question }) => question).join()).not.toMatch(/lower end/);
  });

  it('says which level it does not know', () => {
    expect(() => linesOnPaper(plan, 'p', { from: 'nowhere' })).toThrow(
      /no level called 'nowhere'; name one of high, low/,
    );
    expect(() => linesOnPaper(plan, 'p', { from: 'low' })).toThrow(/lie at one place/);
    expect(() => linesOnPaper(planOf([lot]), 'p', {})).toThrow(/fewer than two levels/);
  });
});

describe('a soakaway without heights', () => {
  const pit = {
    id: 'pit',
    at: [
      [20, 3],
      [24, 3],
      [24, 5],
      [20, 5],
    ] as readonly XY[],
    properties: { kind: 'soakaway', depth_m: 1, void_ratio: 0.4 },
  };
  const roof = {
    id: 'roof',
    at: [
      [0, 10],
      [10, 10],
      [10, 20],
      [0, 20],
    ] as readonly XY[],
    properties: { kind: 'roof' },
  };
  const spout = {
    id: 'spout',
    at: [[10, 10]] as readonly XY[],
    properties: { kind: 'downspout', roof: 'roof', outlet: frame.toLngLat([22, 4]) },
  };
  const settings = (mmPerH: number): object => ({
    storm: { rain_mm: 40, duration_h: 24 },
    soil: { rate_mm_per_h: mmPerH },
  });

  it('holds its gaps, soaks through its bottom, and is half empty by half its water over the rate', () => {
    const [found] = onPaper(planOf([pit, roof, spout], settings(20)), 'p').soakaways;
    expect(found.holds_m3).toBeCloseTo(8 * 1 * 0.4, 6);
    // 100 m2 of roof, 40 mm
    expect(found.comes_m3).toBeCloseTo(4, 6);
    expect(found.soaks_m3).toBeGreaterThan(0.8);
    expect(found.over_m3).toBe(0);
    const rateMPerH = found.soaks_m3 / 8 / 24;
    expect(found.half_empty_after_h).toBeCloseTo(0.2 / rateMPerH, 6);
    expect(found.result).toBe('pass');
  });

  it('fails in soil that takes too little, and asks where nothing leads into it', () => {
    const [slow] = onPaper(planOf([pit, roof, spout], settings(2)), 'p').soakaways;
    expect(slow.result).toBe('fail');
    expect(slow.why).toMatch(/cannot take the storm.*not half empty in time/);
    const [dry] = onPaper(planOf([pit], settings(20)), 'p').soakaways;
    expect(dry).toMatchObject({ result: 'check', comes_m3: 0 });
    expect(dry.why).toMatch(/Nothing that is drawn leads into it/);
  });
});
