import { describe, expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import type { DrainageResult } from '../../../lib/drainage/answer/drainage-result';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { whatChanged } from '../../../lib/drainage/answer/what-changed';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, frame, groundOf, lineOf, planOf, polygonOf } from '../ground/plane-lot';

/** 60 m by 60 m falling 4 % to the south and a little to the west, with a dent of 30 cm in the own lot. */
const elevation = groundOf(60, 60, 0.5, (x, y) => {
  const away = Math.hypot(x - 30, y - 20);
  return 3 + 0.04 * y + 0.005 * x - (away < 4 ? 0.3 : 0);
});

const lots: PlanFeature[] = [
  polygonOf('own', box(20, 10, 40, 30), { kind: 'lot', own: true }),
  polygonOf('uphill', box(20, 30, 40, 50), { kind: 'lot', own: false, name: 'Uphill' }),
];

function drained(features: readonly PlanFeature[], rainMm = 40) {
  const plan = planOf([...features]);
  const shape = shapeGround(elevation, plan);
  return drainLot(shape, stormOnGround(shape, plan, rainMm), plan, { crs: 'test', rmseM: 0.05 });
}

const wall = (westM: number): PlanFeature =>
  lineOf(
    'wall',
    [
      [westM, 30],
      [westM + 24, 30],
    ],
    { kind: 'wall', height_m: 0.5 },
  );

describe('what a change did', () => {
  it('is nothing when nothing changed', () => {
    expect(whatChanged(drained(lots), drained(lots))).toEqual([]);
  });

  it('tells that a wall along the upper line keeps the neighbour’s water out, and from which low spot', () => {
    const found = whatChanged(drained(lots), drained([...lots, wall(18)]));
    const runOn = found.find((row) => row.about === 'run-on' && row.id === 'uphill');
    expect(runOn?.after).toBeLessThan(0.2 * (runOn?.before ?? 0));
    const inDent = found.find((row) => row.about === 'low-spot' && row.before > 0);
    expect(inDent?.after).toBeLessThan(inDent?.before ?? 0);
    expect(found.some((row) => row.about === 'drains-to' && row.after < row.before)).toBe(true);
  });

  it('tells which water goes another way when the wall moves by three metres', () => {
    const moved = whatChanged(drained([...lots, wall(18)]), drained([...lots, wall(21)]));
    // What runs along the wall now comes round its end onto the lot.
    const runOn = moved.find((row) => row.about === 'run-on');
    expect(runOn?.after).toBeGreaterThan(runOn?.before ?? 0);
  });

  it('is the same figure the other way round', () => {
    const there = whatChanged(drained(lots), drained([...lots, wall(18)]));
    const back = whatChanged(drained([...lots, wall(18)]), drained(lots));
    const runOn = (rows: typeof there) => rows.find((row) => row.about === 'run-on');
    expect(runOn(back)).toMatchObject({
      before: runOn(there)?.after,
      after: runOn(there)?.before,
    });
  });

  const house = polygonOf('house', box(24, 32, 30, 38), { kind: 'building' });
  const base = drained([...lots, house]);
  const ledger = base.ledger!;
  const comesM3 = ledger.rain_m3 + ledger.run_on_m3;
  const soaking = (more: number, sumpM3 = 0): DrainageResult => ({
    ...base,
    ledger: { ...ledger, soaked_m3: ledger.soaked_m3 + more, sump_m3: sumpM3 },
  });

  it('lists volumes from a five-hundredth of what comes in on, sumps counted', () => {
    expect(whatChanged(base, soaking(0.0015 * comesM3))).toEqual([]);
    expect(whatChanged(base, soaking(0.003 * comesM3))).toEqual([
      {
        about: 'soaked',
        id: null,
        unit: 'm3',
        before: ledger.soaked_m3,
        after: ledger.soaked_m3 + 0.003 * comesM3,
      },
    ]);
    expect(whatChanged(soaking(0, comesM3), soaking(0.003 * comesM3, comesM3))).toEqual([]);
  });

  it('lists water at a wall from half a centimetre on, and ground that drains somewhere from 1 m2 and a hundredth of it on', () => {
    expect(base.buildings).toHaveLength(1);
    const deeper = (byM: number): DrainageResult => ({
      ...base,
      buildings: base.buildings.map((row) => ({ ...row, depth_m: row.depth_m + byM })),
    });
    expect(whatChanged(base, deeper(0.004))).toEqual([]);
    expect(whatChanged(base, deeper(0.006))).toMatchObject([
      { about: 'at-wall', id: 'house', unit: 'm' },
    ]);
    const draining = (area_m2: number): DrainageResult => ({
      ...base,
      contributing: base.contributing.map((row) => ({ ...row, area_m2 })),
    });
    const changes = (from: number, to: number) => whatChanged(draining(from), draining(to));
    expect(changes(40, 40.9)).toEqual([]);
    expect(changes(40, 41.1).every(({ about }) => about === 'drains-to')).toBe(true);
    expect(changes(40, 41.1)).toHaveLength(base.contributing.length);
    expect(changes(1412, 1408)).toEqual([]);
    expect(changes(1412, 1390)).toHaveLength(base.contributing.length);
  });

  it('knows a low spot again by its place, the nearest first and each only once', () => {
    const [spot] = base.low_spots;
    const at = (id: string, eastM: number): typeof spot => {
      const [x, y] = frame.toLocal(spot.deepest);
      return { ...spot, id, number: id.length, deepest: frame.toLngLat([x + eastM, y]) };
    };
    const holding = (rows: readonly (readonly [typeof spot, number])[]): DrainageResult => ({
      ...base,
      low_spots: rows.map(([row]) => row),
      standing: rows.map(([{ id }, volume_m3]) => ({ ...base.standing[0], id, volume_m3 })),
    });
    const before = holding([
      [at('far', 1.6), 4],
      [at('near', 0), 8],
    ]);
    // the nearer of two that are near enough
    expect(whatChanged(before, holding([[at('moved', 0.4), 8]]))).toEqual([
      {
        about: 'low-spot',
        id: 'far',
        lowSpot: { number: 3, gone: true },
        unit: 'm3',
        before: 4,
        after: 0,
      },
    ]);
    // two that lie by the same one: the second is new
    const one = holding([[at('near', 0), 8]]);
    expect(
      whatChanged(
        one,
        holding([
          [at('first', 0.2), 8],
          [at('second', 0.4), 8],
        ]),
      ),
    ).toEqual([
      {
        about: 'low-spot',
        id: 'second',
        lowSpot: { number: 6, gone: false },
        unit: 'm3',
        before: 0,
        after: 8,
      },
    ]);
    // beyond two metres it is another
    expect(whatChanged(one, holding([[at('other', 2.2), 8]]))).toHaveLength(2);
  });

  it('sorts volumes before areas, the largest first', () => {
    const found = whatChanged(drained(lots, 20), drained(lots, 60));
    const sizes = found
      .filter(({ unit }) => unit === 'm3')
      .map((r) => Math.abs(r.after - r.before));
    expect(sizes.length).toBeGreaterThan(2);
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
  });
});
