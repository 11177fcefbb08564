import { describe, expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, groundOf, planOf, polygonOf } from '../ground/plane-lot';

/** Falls 2 % to the south, with a dent of 20 cm in the open. */
const elevation = groundOf(60, 60, 0.5, (x, y) => {
  return 3 + 0.02 * y - (Math.hypot(x - 12, y - 12) < 3 ? 0.2 : 0);
});

/** Four wings about a court of 4 by 4 m, with a passage of `gapM` in the southern one. */
function wings(gapM: number): PlanFeature[] {
  const wing = (id: string, ...sides: [number, number, number, number]): PlanFeature =>
    polygonOf(id, box(...sides), { kind: 'building' });
  return [
    wing('north', 30, 40, 42, 44),
    wing('west', 30, 36, 34, 40),
    wing('east', 38, 36, 42, 40),
    wing('south-west', 30, 32, 36 - gapM / 2, 36),
    wing('south-east', 36 + gapM / 2, 32, 42, 36),
  ];
}

function lowSpotsOf(features: readonly PlanFeature[]) {
  const plan = planOf(features);
  const shape = shapeGround(elevation, plan);
  return drainLot(shape, stormOnGround(shape, plan, 40), plan, { crs: 'test' }).low_spots;
}

describe('a court between buildings', () => {
  it('is told from low spots that have a brim', () => {
    const spots = lowSpotsOf(wings(0));
    expect(spots.filter(({ enclosed }) => enclosed)).toHaveLength(1);
    expect(spots.find(({ enclosed }) => enclosed)?.area_m2).toBe(16);
    expect(spots.find(({ enclosed }) => !enclosed)?.depth_m).toBeLessThan(0.3);
  });

  it('is numbered after them, though it would hold the most', () => {
    const spots = lowSpotsOf(wings(0));
    expect(spots.map(({ number }) => number)).toEqual(spots.map((_, i) => i + 1));
    expect(spots.at(-1)?.enclosed).toBe(true);
    expect(spots.at(-1)?.volume_m3).toBeGreaterThan(spots[0].volume_m3);
  });

  it('is none with a passage out of it', () => {
    expect(lowSpotsOf(wings(2)).some(({ enclosed }) => enclosed)).toBe(false);
  });
});
