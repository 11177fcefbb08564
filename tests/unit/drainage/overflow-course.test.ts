import { describe, expect, it } from 'vitest';
import { overflowCourse } from '../../../lib/drainage/answer/overflow-course';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import type { LngLat, XY } from '../../../lib/frame/frame';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, frame, groundOf, lineOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

const basin = polygonOf('basin', box(10, 12, 16, 18), {
  kind: 'basin',
  ponding_depth_m: 0.12,
});
/** Down the way from the notch, and where drains empty. */
const below: XY = [25.2, 15.2];
const outlet: LngLat = frame.toLngLat([40.2, 5.2]);

/** Ground that falls 3 % to the east, with a hollow in it where asked. */
function course(
  features: readonly PlanFeature[],
  flowM3PerS: number,
  { hollow = false, inUse = new Map<string, number>() } = {},
) {
  const plan = planOf([basin, ...features]);
  const elevation = groundOf(60, 30, 0.5, (x, y) => {
    const dent = hollow ? Math.max(0, 0.3 - 0.1 * Math.hypot(x - 25, y - 15)) : 0;
    return 8 - 0.03 * x - dent;
  });
  const shape = shapeGround(elevation, plan);
  return overflowCourse(shape, plan, shape.ground.basins[0], flowM3PerS, inUse);
}

const drain = (properties: object, at: XY = below): PlanFeature =>
  pointOf('drain', at, { kind: 'yard-drain', ...properties });
const legsOf = (found: ReturnType<typeof course>, way = 0): (string | null)[] =>
  found.ways[way].legs.map(({ by, drain }) => drain ?? by);
const endOf = (found: ReturnType<typeof course>, way = 0): XY =>
  found.ways[way].legs.at(-1)?.points.at(-1) ?? [0, 0];

describe('the course of overflow', () => {
  it('runs over the ground to the edge of the data where there is no inlet', () => {
    const found = course([], 0.01);
    expect(found.inlets).toEqual([]);
    expect(found.ways).toHaveLength(1);
    expect(found.ways[0]).toMatchObject({ flowM3PerS: 0.01, ends: 'edge-of-data' });
    expect(legsOf(found)).toEqual(['ground']);
    expect(endOf(found)[0]).toBeGreaterThan(59);
  });

  it('goes down an inlet with room, and on from where that empties', () => {
    const found = course([drain({ outlet, capacity_m3_per_h: 72 })], 0.01);
    expect(found.ways).toHaveLength(1);
    expect(legsOf(found)).toEqual(['ground', 'drain', 'ground']);
    const [first, pipe, last] = found.ways[0].legs;
    expect(Math.hypot(...minus(first.points.at(-1), pipe.points[0]))).toBeLessThan(0.01);
    expect(Math.hypot(...minus(last.points[0], [40.2, 5.2]))).toBeLessThan(0.6);
    expect(found.inlets).toEqual([
      {
        drain: 'drain',
        comesM3PerS: 0.01,
        roomM3PerS: expect.closeTo(0.02, 9) as number,
        takesM3PerS: 0.01,
        blocked: false,
      },
    ]);
  });

  it('sends what exceeds the pipe on over the ground, the greater part first', () => {
    const found = course([drain({ outlet, capacity_m3_per_h: 7.2 })], 0.01);
    expect(found.ways.map(({ flowM3PerS }) => Number(flowM3PerS.toFixed(9)))).toEqual([
      0.008, 0.002,
    ]);
    expect(legsOf(found, 0)).toEqual(['ground']);
    expect(legsOf(found, 1)).toEqual(['ground', 'drain', 'ground']);
    // what roofs send through the same pipe leaves less room
    const pipe = lineOf('pipe', [below, [40.2, 5.2]], { kind: 'drain-pipe', slope: 0.02 });
    const named = drain({ pipe: 'pipe' });
    const [alone] = course([pipe, named], 0.003).inlets;
    const [shared] = course([pipe, named], 0.003, { inUse: new Map([['pipe', 0.002]]) }).inlets;
    expect(alone.roomM3PerS - shared.roomM3PerS).toBeCloseTo(0.002, 9);
  });

  it('passes one that is blocked or full, and says so', () => {
    const blocked = course([drain({ outlet, blocked: true })], 0.01);
    expect(legsOf(blocked)).toEqual(['ground']);
    expect(blocked.inlets[0]).toMatchObject({ roomM3PerS: 0, takesM3PerS: 0, blocked: true });
  });

  it('is taken from a hollow that it crosses, and ends in the storm sewer', () => {
    for (const at of [below, [25.2, 17.2]] satisfies XY[]) {
      const sewer = drain({ outlet: 'storm-sewer', capacity_m3_per_h: 72 }, at);
      const found = course([sewer], 0.01, { hollow: true });
      expect(found.ways, String(at)).toHaveLength(1);
      expect(found.ways[0].ends).toBe('storm-sewer');
      expect(legsOf(found)).toEqual(['ground', 'drain']);
      // the one aside is not passed but for the hollow
      expect(course([sewer], 0.01).inlets, String(at)).toHaveLength(at === below ? 1 : 0);
    }
  });

  it('does not meet an inlet away from it, nor enters one twice', () => {
    const away = course([drain({ outlet, capacity_m3_per_h: 72 }, [25.2, 20.2])], 0.01);
    expect(away.inlets).toEqual([]);
    // a pipe that lets out above its own inlet
    const round = lineOf(
      'pipe',
      [
        [30.2, 15.2],
        [22.2, 15.2],
      ],
      { kind: 'drain-pipe', slope: 0.02 },
    );
    const found = course([round], 0.001);
    expect(found.inlets).toHaveLength(1);
    expect(legsOf(found)).toEqual(['ground', 'pipe', 'ground']);
    expect(endOf(found)[0]).toBeGreaterThan(59);
  });

  it('without a flow goes where the first of it would', () => {
    const found = course([drain({ outlet, capacity_m3_per_h: 1 })], 0);
    expect(legsOf(found)).toEqual(['ground', 'drain', 'ground']);
  });
});

function minus(a: XY | undefined, b: XY): XY {
  return a === undefined ? [Infinity, 0] : [a[0] - b[0], a[1] - b[1]];
}
