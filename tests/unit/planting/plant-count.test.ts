import { describe, expect, it } from 'vitest';
import { plantsFor } from '../../../lib/planting/plant-count';
import { inchM, squareFootM2 } from '../../../lib/units/units';

describe('plants for an area', () => {
  it('are those of the published examples', () => {
    const counts = (areaFt2: number, spacingIn: number) =>
      (['square', 'triangular'] as const).map((grid) =>
        plantsFor(areaFt2 * squareFootM2, spacingIn * inchM, grid),
      );
    // 100 ft2 at 12 in, 300 ft2 at 18 in, as planting charts have them
    expect(counts(100, 12)[0]).toBeCloseTo(100, 9);
    expect(counts(100, 12)[1]).toBeCloseTo(115.47, 2);
    expect(counts(300, 18)[0]).toBeCloseTo(133.33, 2);
    expect(counts(300, 18)[1]).toBeCloseTo(153.96, 2);
  });
});
