import { describe, expect, it } from 'vitest';
import { withUptake } from '../../../lib/drainage/basin-uptake';
import { drainLot } from '../../../lib/drainage/drain-lot';
import { shapeGround } from '../../../lib/drainage/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm-on-ground';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, groundOf, planOf, polygonFeature } from '../ground/plane-lot';

/** 60 m by 60 m falling 2 % to the south; a basin of 5 m by 4 m in the lot. */
const elevation = groundOf(60, 60, 0.5, (_x, y) => 3 + 0.02 * y);
const features: PlanFeature[] = [
  polygonFeature('own', box(20, 10, 40, 30), { kind: 'lot', own: true }),
  polygonFeature('basin', box(28, 18, 33, 22), {
    kind: 'basin',
    ponding_depth_m: 0.1,
    side_slope: 2,
  }),
];

function drained(uptakeM3: number, rainMm = 60) {
  const plan = planOf(features);
  const shape = withUptake(shapeGround(elevation, plan), new Map([['basin', uptakeM3]]), 1);
  const result = drainLot(shape, stormOnGround(shape, plan, rainMm), plan, {
    crs: 'test',
    rmseM: 0.05,
  });
  if (result.ledger === null) throw new Error('no ledger');
  return { ...result.ledger, conduits: result.conduits };
}

describe('what a basin takes in while it rains', () => {
  it('goes to the basin in the ledger and is passed on no more', () => {
    const without = drained(0);
    const taking = drained(0.8);
    expect(without.passed_on_m3).toBeGreaterThan(0.8);
    expect(taking.basin_soaked_m3).toBeCloseTo(0.8, 9);
    expect(taking.basin_m3).toBeCloseTo(without.basin_m3 + 0.8, 6);
    expect(taking.passed_on_m3).toBeCloseTo(without.passed_on_m3 - 0.8, 6);
    expect(Math.abs(taking.error_m3)).toBeLessThan(1e-9);
  });

  it('is no more than what comes', () => {
    const greedy = drained(1000);
    expect(greedy.basin_m3).toBeCloseTo(greedy.basin_soaked_m3, 9);
    expect(greedy.basin_soaked_m3).toBeLessThan(greedy.rain_m3 + greedy.run_on_m3);
    expect(Math.abs(greedy.error_m3)).toBeLessThan(1e-9);
    expect(drained(1000, 0).basin_soaked_m3).toBe(0);
  });

  it('is not listed among the drains', () => {
    expect(drained(0.8).conduits).toEqual([]);
  });
});
