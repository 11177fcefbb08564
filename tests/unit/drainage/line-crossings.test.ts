import { describe, expect, it } from 'vitest';
import { ledger } from '../../../lib/drainage/answer/ledger';
import { lineCrossings } from '../../../lib/drainage/answer/line-crossings';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { Settings } from '../../../lib/plan/schema';
import { box, frame, groundOf, lineOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

const dent = (x: number, y: number, atX: number, atY: number, radiusM: number, deepM: number) =>
  Math.max(0, deepM * (1 - Math.hypot(x - atX, y - atY) / radiusM));

function crossingsOn(
  height: (x: number, y: number) => number,
  features: Parameters<typeof planOf>[0],
  settings: Partial<Settings>,
) {
  const plan = planOf(features, settings);
  const shape = shapeGround(groundOf(60, 60, 0.5, height), plan);
  const storm = stormOnGround(shape, plan, plan.plan.lotfall.storm?.rain_mm ?? 0);
  const own = shape.ground.lots.findIndex((lot) => lot.own);
  return {
    found: lineCrossings(shape, storm, plan, own),
    own: ledger(shape, storm, plan, own),
  };
}

describe('on a plane that falls to the south, all paved', () => {
  const paved = [
    polygonOf('own', box(20, 10, 40, 30), { kind: 'lot', own: true, name: 'Home' }),
    polygonOf('upper', box(20, 30, 40, 50), { kind: 'lot', own: false, name: 'Upper' }),
    polygonOf('lower', box(20, 0, 40, 10), { kind: 'lot', own: false, name: 'Lower' }),
    polygonOf('paving', box(0, 0, 60, 60), { kind: 'surface', cover: 'paving' }),
  ];
  const storm = { rain_mm: 40, duration_h: 2 };
  const { found } = crossingsOn((_, y) => 0.03 * y, paved, { storm });

  it('has what comes down uphill cross both lines over their whole length', () => {
    const [into, out] = [
      found.rows.filter(({ lot }) => lot === 'upper'),
      found.rows.filter(({ lot }) => lot === 'lower'),
    ];
    expect(into.map(({ direction, by }) => [direction, by])).toEqual([['in', 'ground']]);
    expect(into[0].width_m).toBeCloseTo(20, 6);
    expect(out[0].width_m).toBeCloseTo(20, 6);
    // 30 m of paving above the upper line, 50 m above the lower, each 20 m wide, the edge's own cells gone
    expect(out[0].volume_m3 / into[0].volume_m3).toBeCloseTo(49.5 / 29.5, 6);
    // at most 20 mm/h over that paving, and no less than what crosses in two hours
    expect(into[0].peak_at_most_m3_per_h).toBeLessThanOrEqual(29.5 * 20 * 0.02 + 1e-9);
    expect(into[0].peak_at_most_m3_per_h).toBeGreaterThan(29.5 * 20 * 0.019);
    expect(into[0].peak_at_most_m3_per_h).toBeGreaterThan(into[0].volume_m3 / 2);
    expect(found.hours_known).toBe(true);
  });

  it('knows no peak of a storm that is not the plan’s', () => {
    const plan = planOf(paved, { storm });
    const shape = shapeGround(
      groundOf(60, 60, 0.5, (_, y) => 0.03 * y),
      plan,
    );
    const { rows } = lineCrossings(shape, stormOnGround(shape, plan, 25), plan, 0);
    expect(rows.every(({ peak_at_most_m3_per_h }) => peak_at_most_m3_per_h === null)).toBe(true);
  });
});

it('shows that a channel concentrates what crosses without adding to it', () => {
  const lots = [
    polygonOf('own', box(20, 10, 40, 30), { kind: 'lot', own: true }),
    polygonOf('lower', box(10, 0, 50, 10), { kind: 'lot', own: false }),
  ];
  const settings = { storm: { rain_mm: 60 } };
  const plane = (_: number, y: number) => 0.03 * y;
  const channel = (x: number, y: number) => plane(x, y) + 0.05 * Math.min(4, Math.abs(x - 30));
  const toLower = (height: (x: number, y: number) => number) =>
    crossingsOn(height, lots, settings).found.rows.filter(
      ({ lot, direction }) => lot === 'lower' && direction === 'out',
    );
  const [sheet] = toLower(plane);
  const [stream] = toLower(channel);
  expect(sheet.width_m).toBeCloseTo(20, 6);
  expect(stream.width_m).toBeLessThan(9);
  expect(stream.volume_m3 / stream.width_m!).toBeGreaterThan(
    1.8 * (sheet.volume_m3 / sheet.width_m!),
  );
  expect(stream.peak_at_most_m3_per_h! / stream.width_m!).toBeGreaterThan(
    1.8 * (sheet.peak_at_most_m3_per_h! / sheet.width_m!),
  );
});

it('is the ledger’s run-on less what it passes on, with ponds over the line, drains and roofs over it', () => {
  const features = [
    polygonOf('own', box(20, 10, 40, 50), { kind: 'lot', own: true }),
    polygonOf('east', box(40, 10, 55, 50), { kind: 'lot', own: false }),
    polygonOf('house', box(24, 30, 32, 40), { kind: 'building' }),
    pointOf('spout', [32, 35], {
      kind: 'downspout',
      roof: 'house',
      outlet: frame.toLngLat([42, 35]),
    }),
    lineOf(
      'pipe',
      [
        [30, 21],
        [44, 14],
      ],
      { kind: 'drain-pipe' },
    ),
    pointOf('drain', [30, 21], { kind: 'yard-drain', pipe: 'pipe' }),
    pointOf('sump', [26, 28], { kind: 'sump-outlet', rate_m3_per_h: 1 }),
  ];
  const height = (x: number, y: number) =>
    3 + 0.03 * y - 0.005 * x - dent(x, y, 40.4, 24, 4, 0.4) - dent(x, y, 30, 21, 3, 0.3);
  const { found, own } = crossingsOn(height, features, { storm: { rain_mm: 50, duration_h: 3 } });
  expect(found.in_m3 - found.out_m3).toBeCloseTo(own.run_on_m3 - own.passed_on_m3, 9);
  expect(new Set(found.rows.map(({ by }) => by))).toEqual(
    new Set(['ground', 'drain', 'roof', 'standing-water']),
  );
  const sum = (way: string) =>
    found.rows.reduce((all, row) => (row.direction === way ? all + row.volume_m3 : all), 0);
  expect(sum('in')).toBeCloseTo(found.in_m3, 9);
  expect(sum('out')).toBeCloseTo(found.out_m3, 9);
});
