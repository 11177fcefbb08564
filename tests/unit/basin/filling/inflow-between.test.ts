import { expect, it } from 'vitest';
import { inflowByFacet } from '../../../../lib/basin/filling/inflow-between';
import { shapeGround } from '../../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../../lib/drainage/storm/storm-on-ground';
import { box, groundOf, planOf, polygonOf } from '../../ground/plane-lot';

const basinOf = (west: number, east: number) =>
  planOf([
    polygonOf('own', box(1, 1, 59, 59), { kind: 'lot', own: true }),
    polygonOf('basin', box(west, 10, east, 14), { kind: 'basin', ponding_depth_m: 0.15 }),
  ]);

function byFacet(plan: ReturnType<typeof basinOf>, height: (x: number, y: number) => number) {
  const shape = shapeGround(groundOf(60, 60, 0.5, height), plan);
  const storm = stormOnGround(shape, plan, 40);
  return inflowByFacet(shape, storm, plan, shape.ground.basins)[0];
}

it('tells that a small basin on a plane gets less where water spreads less', () => {
  const ratio = byFacet(basinOf(27, 33), (_, y) => 5 + 0.04 * y);
  expect(ratio).toBeLessThan(0.95);
  expect(ratio).toBeGreaterThan(0.5);
});

it('says nothing where all water comes by one way', () => {
  // a valley: however it spreads, it comes to its bottom
  const valley = (x: number, y: number): number => 5 + 0.04 * y + 0.1 * Math.abs(x - 30);
  expect(byFacet(basinOf(25, 35), valley)).toBe(null);
});
