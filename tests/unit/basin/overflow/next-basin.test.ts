import { describe, expect, it } from 'vitest';
import { nextBasin } from '../../../../lib/basin/overflow/next-basin';
import { overflowCourse } from '../../../../lib/drainage/answer/overflow-course';
import { shapeGround } from '../../../../lib/drainage/storm/shaped-ground';
import { shallowFlowMPerS } from '../../../../lib/storm/travel-time';
import { box, groundOf, planOf, pointOf, polygonOf, frame } from '../../ground/plane-lot';

const basin = (id: string, south: number) =>
  polygonOf(id, box(26, south, 34, south + 4), { kind: 'basin', ponding_depth_m: 0.12 });

/** A plane that falls 4 % to the south, with one basin 16 m below the other, and perhaps a drain between them. */
function next(drain?: object) {
  const between = pointOf('drain', [30, 26.2], { kind: 'yard-drain', ...drain });
  const plan = planOf([
    basin('upper', 30),
    basin('lower', 10),
    ...(drain === undefined ? [] : [between]),
  ]);
  const shape = shapeGround(
    groundOf(60, 60, 0.5, (_, y) => 5 + 0.04 * y),
    plan,
  );
  const [upper, ...others] = shape.ground.basins;
  return nextBasin(shape, overflowCourse(shape, plan, upper, 0.002), others);
}

describe('the basin that overflow comes to next', () => {
  it('is reached in the time of a runnel down the slope', () => {
    const found = next();
    expect(found?.id).toBe('lower');
    const runnelS = 16 / shallowFlowMPerS(0.04, false);
    expect((found?.delayS ?? 0) / runnelS).toBeGreaterThan(0.85);
    expect((found?.delayS ?? 0) / runnelS).toBeLessThan(1.15);
  });

  it('is reached sooner through a pipe, and not at all where that leads elsewhere', () => {
    const through = next({ outlet: frame.toLngLat([30, 16.2]), capacity_m3_per_h: 100 });
    expect(through?.id).toBe('lower');
    expect(through?.delayS ?? Infinity).toBeLessThan(0.6 * (next()?.delayS ?? 0));
    expect(next({ outlet: 'storm-sewer', capacity_m3_per_h: 100 })).toBeNull();
  });
});
