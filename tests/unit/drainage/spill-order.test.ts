import { expect, it } from 'vitest';
import { withUptake } from '../../../lib/drainage/storm/basin-uptake';
import { lowSpots } from '../../../lib/drainage/answer/low-spots';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { spillOrder } from '../../../lib/drainage/answer/spill-order';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { box, groundOf, planOf, polygonOf } from '../ground/plane-lot';

it('tells at which rain each low spot begins to spill, the smaller for its catchment first', () => {
  const dent = (x: number, y: number, cx: number, deep: number) =>
    Math.max(0, deep * (1 - Math.hypot(x - cx, y - 20) / 3));
  const elevation = groundOf(
    60,
    60,
    0.5,
    (x, y) => 4 + 0.04 * y - dent(x, y, 15, 0.2) - dent(x, y, 45, 0.6),
  );
  const plan = planOf([]);
  const shape = shapeGround(elevation, plan);
  const spots = lowSpots(shape.terrain, { cellAreaM2: 0.25, minDepthM: 0.03 });
  const [deep, shallow] = spillOrder(shape, plan, spots);
  expect(spots[0].volumeM3).toBeGreaterThan(spots[1].volumeM3);
  expect(shallow).toBeLessThan(deep ?? 0);
  const spills = (rainMm: number): boolean => {
    const { stormPools } = stormOnGround(shape, plan, rainMm);
    const pool = stormPools.node.indexOf(spots[1].id);
    return pool !== -1 && stormPools.spilled[pool] > 0;
  };
  expect(spills((shallow ?? 0) + 0.6)).toBe(true);
  expect(spills((shallow ?? 0) - 0.6)).toBe(false);
});

it('is of the bowl alone for a basin, however much it takes in while the storm that is poured lasts', () => {
  const rim = box(10, 10, 16, 15);
  const plan = planOf([polygonOf('basin', rim, { kind: 'basin', ponding_depth_m: 0.15 })]);
  const shape = shapeGround(
    groundOf(60, 60, 0.5, (_, y) => 4 + 0.03 * y),
    plan,
  );
  const spots = lowSpots(shape.terrain, { cellAreaM2: 0.25, minDepthM: 0.03 });
  const [bowl] = spillOrder(shape, plan, spots);
  expect(bowl).toBeGreaterThan(5);
  const taking = withUptake(shape, new Map([['basin', 5]]), 24);
  expect(taking.ground.conduits).toHaveLength(1);
  expect(spillOrder(taking, plan, spots)).toEqual([bowl]);
});
