import { describe, expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/drain-lot';
import { shapeGround } from '../../../lib/drainage/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm-on-ground';
import { whatChanged } from '../../../lib/drainage/what-changed';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, groundOf, lineFeature, planOf, polygonFeature } from '../ground/plane-lot';

/** 60 m by 60 m falling 4 % to the south and a little to the west, with a dent of 30 cm in the own lot. */
const elevation = groundOf(60, 60, 0.5, (x, y) => {
  const away = Math.hypot(x - 30, y - 20);
  return 3 + 0.04 * y + 0.005 * x - (away < 4 ? 0.3 : 0);
});

const lots: PlanFeature[] = [
  polygonFeature('own', box(20, 10, 40, 30), { kind: 'lot', own: true }),
  polygonFeature('uphill', box(20, 30, 40, 50), { kind: 'lot', own: false, name: 'Uphill' }),
];

function drained(features: readonly PlanFeature[], rainMm = 40) {
  const plan = planOf([...features]);
  const shape = shapeGround(elevation, plan);
  return drainLot(shape, stormOnGround(shape, plan, rainMm), plan, { crs: 'test', rmseM: 0.05 });
}

const wall = (westM: number): PlanFeature =>
  lineFeature(
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
    expect(moved.filter((row) => row.about === 'run-on')).toHaveLength(1);
    // What runs along the wall now comes round its end onto the lot.
    expect(moved.find((row) => row.about === 'run-on')?.after).toBeGreaterThan(0);
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

  it('sorts volumes before areas, the largest first', () => {
    const found = whatChanged(drained(lots, 20), drained(lots, 60));
    const sizes = found
      .filter(({ unit }) => unit === 'm3')
      .map((r) => Math.abs(r.after - r.before));
    expect(sizes.length).toBeGreaterThan(2);
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
  });
});
