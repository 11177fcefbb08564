import { describe, expect, it } from 'vitest';
import { observedWater } from '../../../lib/drainage/answer/observed-water';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { PlanFeature, Settings } from '../../../lib/plan/schema';
import { box, groundOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

/** A bowl half a metre deep in the middle. */
const bowl = () =>
  groundOf(
    60,
    60,
    0.5,
    (x, y) => Math.min(5, 4.5 + ((x - 30) ** 2 + (y - 30) ** 2) / 200) - 0.001 * x,
  );
const lot = polygonOf('own', box(5, 5, 55, 55), { kind: 'lot', own: true });

function observed(properties: object, settings: Partial<Settings> = {}, ...more: PlanFeature[]) {
  const seen = pointOf('seen', [30, 30], { kind: 'observation', ...properties });
  const plan = planOf([lot, seen, ...more], {
    soil: { rate_mm_per_h: 5 },
    elevation: { rmse_m: 0.02 },
    ...settings,
  });
  const shape = shapeGround(bowl(), plan);
  const [row] = observedWater(shape, plan, 40);
  const at = (rain: number): number => Math.max(...stormOnGround(shape, plan, rain).depthM);
  return { row, at };
}

describe('water that was seen', () => {
  it('is set beside the pool of that day’s rain, else of the plan’s', () => {
    const { row, at } = observed({ depth_m: 0.2, rain_mm: 60, on: '2026-04-02' });
    expect(row.computed_depth_m).toBeCloseTo(at(60), 3);
    expect(row).toMatchObject({ rain_mm: 60, rain_assumed: false, on: '2026-04-02' });
    expect(row.difference_m).toBeCloseTo(0.2 - at(60), 3);
    const assumed = observed({ depth_m: 0.2 });
    expect(assumed.row.computed_depth_m).toBeCloseTo(assumed.at(40), 3);
    expect(assumed.row.rain_assumed).toBe(true);
    expect(assumed.row.why.join()).toMatch(/day’s rain is not given/);
  });

  it('agrees, is deeper or shallower, or was not there', () => {
    const { at } = observed({});
    const depth = at(60);
    const result = (depth_m: number): string => observed({ depth_m, rain_mm: 60 }).row.result;
    expect(depth).toBeGreaterThan(0.1);
    expect(result(depth + 0.01)).toBe('agrees');
    expect(result(depth + 0.1)).toBe('deeper');
    expect(result(depth - 0.08)).toBe('shallower');
    expect(result(0)).toBe('not-seen');
    expect(observed({}).row.result).toBe('unknown');
  });

  it('checks the soil’s rate by how long it stood', () => {
    // 20 cm gone in 40 h are 5 mm/h; still there after 100 h they are 2 mm/h at most.
    const soil = (times: object): string => observed({ depth_m: 0.2, ...times }).row.soil;
    expect(observed({ depth_m: 0.2, gone_after_h: 40 }).row.took_at_least_mm_per_h).toBeCloseTo(
      5,
      9,
    );
    expect(soil({ gone_after_h: 40 })).toBe('agrees');
    expect(soil({ gone_after_h: 90 })).toBe('slower');
    expect(soil({ gone_after_h: 5 })).toBe('faster');
    expect(soil({ still_after_h: 100 })).toBe('slower');
    expect(soil({ still_after_h: 20 })).toBe('agrees');
    expect(soil({})).toBe('unknown');
    expect(
      observed({ depth_m: 0.2, gone_after_h: 40 }, { soil: {} }).row.design_mm_per_h,
    ).toBeNull();
  });

  it('says what a garden may ail from that stays wet', () => {
    const garden = polygonOf('garden', box(27, 27, 33, 33), { kind: 'basin' });
    const { row } = observed({ depth_m: 0.1, still_after_h: 96 }, {}, garden);
    expect(row.basin).toBe('garden');
    expect(row.why.join()).toMatch(/sealed with fines.*common practice/);
    expect(observed({ depth_m: 0.1, still_after_h: 96 }).row.why.join()).not.toMatch(/sealed/);
  });
});
