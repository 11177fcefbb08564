import { describe, expect, it } from 'vitest';
import { withUptake } from '../../../lib/drainage/storm/basin-uptake';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { cellCentre } from '../../../lib/elevation/grid';
import type { XY } from '../../../lib/frame/frame';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, groundOf, planOf, polygonOf } from '../ground/plane-lot';

/** 60 m by 60 m falling 2 % to the south; a basin of 5 m by 4 m in the lot. */
const elevation = groundOf(60, 60, 0.5, (_x, y) => 3 + 0.02 * y);
const features: PlanFeature[] = [
  polygonOf('own', box(20, 10, 40, 30), { kind: 'lot', own: true }),
  polygonOf('basin', box(28, 18, 33, 22), {
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
  return { ...result.ledger, drains: result.drains };
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

  it('goes into the ground where most of the basin drains to', () => {
    // two bowls with a waist so narrow that their floors are apart
    const bowls = (large: number, small: number): XY[] => [
      [24, 20 + large],
      [24, 20],
      [29.8, 20],
      [29.8, 20 - small],
      [30.2, 20 - small],
      [30.2, 20],
      [36, 20],
      [36, 20 + large],
    ];
    const whole = (north: number, south: number): XY[] => {
      const [nw, sw, a, b, c, d, se, ne] = bowls(north, 1);
      return [nw, sw, a, b, [24, 19], [24, 19 - south], [36, 19 - south], [36, 19], c, d, se, ne];
    };
    for (const [north, south] of [
      [7, 3],
      [3, 7],
    ]) {
      const plan = planOf([
        polygonOf('basin', whole(north, south), {
          kind: 'basin',
          ponding_depth_m: 0.1,
          side_slope: 2,
        }),
      ]);
      const { ground } = withUptake(shapeGround(elevation, plan), new Map([['basin', 1]]), 1);
      const { inlet } = ground.conduits[0];
      const y = cellCentre(ground.grid, inlet)[1];
      expect(north > south ? y > 20 : y < 19, `${north} ${south} ${y}`).toBe(true);
    }
  });

  it('goes into the basin itself, however small, with a low spot before it', () => {
    const hollow = groundOf(60, 60, 0.5, (x, y) => {
      const away = Math.hypot(x - 30, y - 14);
      return 3 + 0.05 * y - (away < 5 ? 0.4 : 0);
    });
    for (const size of [1.6, 2.1, 3.1]) {
      const small = polygonOf('basin', box(29.1, 19.1, 29.1 + size, 19.1 + size), {
        kind: 'basin',
        ponding_depth_m: 0.02,
        side_slope: 1,
      });
      const shape = shapeGround(hollow, planOf([small]));
      const { ground } = withUptake(shape, new Map([['basin', 1]]), 1);
      const [form] = ground.basins;
      for (const { inlet } of ground.conduits) {
        expect(form.cells.includes(inlet), String(size)).toBe(true);
      }
      expect(withUptake(shape, new Map([['basin', 1]]), 0)).toBe(shape);
    }
  });

  it('is not listed among the drains', () => {
    expect(drained(0.8).drains).toEqual([]);
  });
});
