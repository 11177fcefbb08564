import { describe, expect, it } from 'vitest';
import { basinAsBuilt } from '../../../lib/basin/form/as-built';
import { groundWithoutBasins } from '../../../lib/ground/ground';
import { groundPlane } from '../../../lib/ground/ground-plane';
import { checkSetbacks } from '../../../lib/setback/judge/check-setbacks';
import { checkedBasins } from '../../../lib/setback/rules/checked-basins';
import { ruleSets } from '../../../lib/setback/sets/rule-sets';
import { box, groundOf, planOf, pointOf, polygonOf } from './plane-lot';

/** Falls 3.1 % on the whole, with the waves of a lawn. */
const lawn = groundOf(
  30,
  24,
  0.5,
  (x, y) => 5 + 0.031 * y + 0.05 * Math.sin(1.3 * x) * Math.cos(0.9 * y),
);
const basin = polygonOf('b', box(12, 10, 16, 13), { kind: 'basin' });
const lot = polygonOf('lot', box(2, 2, 28, 22), { kind: 'lot', own: true });

describe('the slope at a basin', () => {
  it('is that of the plane of the ground there, and which way is up', () => {
    const tilted = groundOf(30, 24, 0.5, (x, y) => 5 - 0.03 * x - 0.04 * y);
    const plane = groundPlane(tilted, box(12, 10, 16, 13))!;
    expect(plane.slopeRatio).toBeCloseTo(0.05, 5);
    expect(plane.uphill[0]).toBeCloseTo(-0.6, 4);
    expect(plane.uphill[1]).toBeCloseTo(-0.8, 4);
    expect(plane.middleM).toBeCloseTo(5 - 0.03 * 14 - 0.04 * 11.5, 4);
  });

  it('is one figure for rules and design, with spot heights in it', () => {
    const spots = [11, 14, 17].flatMap((x) =>
      [9, 12, 15].map((y) =>
        pointOf(`${x} ${y}`, [x, y], { kind: 'spot-height', elevation_m: 105 + 0.06 * y }),
      ),
    );
    for (const features of [[], spots]) {
      const plan = planOf([lot, basin, ...features]);
      const built = basinAsBuilt(lawn, plan, 'b');
      if ('notDug' in built) throw new Error(built.notDug);
      const slopes = ruleSets.flatMap((ruleSet) =>
        checkSetbacks({
          plan,
          basins: checkedBasins(plan),
          ruleSet,
          elevation: groundWithoutBasins(lawn, plan),
          today: '2026-11-25',
        }).results.flatMap(({ feature, required_slope, measured_slope, measured_m }) =>
          feature === null && required_slope !== null && measured_m === null
            ? [measured_slope]
            : [],
        ),
      );
      const measured = slopes.filter((slope) => slope !== null);
      expect(measured.length).toBeGreaterThan(0);
      for (const slope of measured) expect(slope).toBe(built.ponding.slope);
    }
  });

  it('is of the ground before any basin, which is made once for the same features', () => {
    const spot = pointOf('s', [14, 12], { kind: 'spot-height', elevation_m: 105.5 });
    expect(groundWithoutBasins(lawn, planOf([lot, basin]))).toBe(lawn);
    const bare = groundWithoutBasins(lawn, planOf([lot, spot]));
    expect(bare).not.toBe(lawn);
    expect(groundWithoutBasins(lawn, planOf([lot, spot, basin]))).toBe(bare);
    const other = pointOf('s', [14, 12], { kind: 'spot-height', elevation_m: 105.6 });
    expect(groundWithoutBasins(lawn, planOf([lot, other]))).not.toBe(bare);
  });
});
