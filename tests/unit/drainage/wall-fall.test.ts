import { describe, expect, it } from 'vitest';
import { cellsInside } from '../../../lib/ground/rasterise';
import { wallFall } from '../../../lib/drainage/answer/wall-fall';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import { box, groundOf, planOf, polygonOf } from '../ground/plane-lot';

const house = box(15, 15, 25, 22);

function judge(height: (x: number, y: number) => number, paved = false) {
  const elevation = groundOf(40, 40, 0.25, height);
  const blocked = new Uint8Array(elevation.z.length);
  for (const cell of cellsInside(elevation, [house])) blocked[cell] = 1;
  return wallFall(elevation, blocked, () => paved, house);
}

describe('fall of the ground away from walls', () => {
  it('is that of a plane on its low side, and towards the wall on its high side', () => {
    const found = judge((x) => 5 - 0.08 * x);
    // West wall: the ground falls towards it at 8 %; east wall: away at 8 %; the others run level along the wall.
    expect(found.least_slope).toBeCloseTo(-0.08, 4);
    expect(found.at?.[0]).toBeCloseTo(15, 6);
    expect(found.judged_m).toBeCloseTo(34, 6);
    expect(found.towards_m).toBeGreaterThanOrEqual(7);
    expect(found.short_m).toBeCloseTo(34 - 7, 0);
  });

  it('meets the code figure on a mound that falls away by 6 % all round, not by 4 %', () => {
    const mound = (slope: number) => (x: number, y: number) =>
      5 - slope * Math.max(15 - x, x - 25, 15 - y, y - 22, 0);
    expect(judge(mound(0.06)).short_m).toBe(0);
    expect(judge(mound(0.04)).short_m).toBeCloseTo(34, 6);
    expect(judge(mound(0.04), true).short_m).toBe(0);
  });

  it('is that of the ground as it is graded', () => {
    // Towards the house by 4 % from the west; graded, away from it by 6 %, over 3.5 m.
    const elevation = groundOf(40, 40, 0.25, (x) => 8 - 0.04 * x);
    const home = polygonOf('house', house, { kind: 'building' });
    const graded = polygonOf('grade', box(11.5, 14, 15, 23), {
      kind: 'regrade',
      slope: 0.06,
      bearing_deg: 270,
      elevation_m: 107.4,
    });
    const towardsM = (plan: LocalPlan) => {
      const shape = shapeGround(elevation, plan);
      const result = drainLot(shape, stormOnGround(shape, plan, 10), plan, { crs: 'local' });
      return result.buildings[0].wall_fall.towards_m;
    };
    const lot = polygonOf('lot', box(5, 5, 35, 35), { kind: 'lot', own: true });
    expect(towardsM(planOf([lot, home]))).toBeGreaterThanOrEqual(7);
    expect(towardsM(planOf([lot, home, graded]))).toBeLessThan(2);
  });

  it('says of a house on the edge of the data only what it can judge', () => {
    const elevation = groundOf(40, 40, 0.25, () => 5);
    const found = wallFall(
      elevation,
      new Uint8Array(elevation.z.length),
      () => false,
      box(0, 10, 8, 18),
    );
    expect(found.judged_m).toBeLessThan(32);
    expect(found.least_slope).toBeCloseTo(0, 6);
  });
});
