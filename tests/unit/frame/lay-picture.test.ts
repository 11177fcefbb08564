import { describe, expect, it } from 'vitest';
import { layPicture, placeOf } from '../../../lib/frame/lay-picture';

describe('laying a picture', () => {
  const two = [
    { pixel: [0, 0], at: [10, 20] },
    { pixel: [100, 0], at: [10, 30] },
  ] as const;

  it('by two points turns and scales it, meets both, and leaves nothing to check by', () => {
    const fit = layPicture(two, 'square');
    expect(fit.missesM.every((miss) => miss < 1e-12)).toBe(true);
    expect(fit.rmsM).toBeNull();
    // Its upper edge runs north, so that its rows run east.
    const [x, y] = placeOf(fit.laid, [0, 100]);
    expect(x).toBeCloseTo(20, 12);
    expect(y).toBeCloseTo(20, 12);
  });

  it('by three says how far they miss, kept square; skewed they are just enough', () => {
    const three = [...two, { pixel: [0, 100], at: [21, 20] } as const];
    const kept = layPicture(three, 'square');
    expect(kept.rmsM).toBeGreaterThan(0.2);
    expect(kept.rmsM).toBeLessThan(0.6);
    const skewed = layPicture(three, 'skewed');
    expect(skewed.rmsM).toBeNull();
    expect(Math.max(...skewed.missesM)).toBeLessThan(1e-9);
  });

  it('refuses too few points, points in one place, and points on one line', () => {
    expect(() => layPicture(two.slice(0, 1), 'square')).toThrow(/too few/);
    expect(() => layPicture([two[0], two[0]], 'square')).toThrow(/in one place/);
    expect(() => layPicture([two[0], { ...two[1], at: two[0].at }], 'square')).toThrow(
      /in one place/,
    );
    const line = [...two, { pixel: [200, 0], at: [10, 40] } as const];
    expect(() => layPicture(line, 'skewed')).toThrow(/on one line/);
  });
});
