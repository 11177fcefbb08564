import { describe, expect, it } from 'vitest';
import {
  classDepthM,
  classOfDepth,
  depthForSlope,
  nearDownspoutM,
  sizeByFactor,
  sizeFactor,
  sizeFactors,
} from '../../lib/basin/form/size-factors';

const footM = 0.3048;
const foot2 = footM ** 2;

describe('the homeowner size factors', () => {
  // Rhode Island and Connecticut extension slides: sandy soil, near the downspout, ft2 of garden by ft2 drained.
  it.each([
    ['shallow', [38, 76, 114, 152, 190]],
    ['middle', [30, 60, 90, 120, 150]],
    ['deep', [16, 32, 48, 64, 80]],
  ] as const)('give the published table for sandy soil, %s', (depth, gardens) => {
    [200, 400, 600, 800, 1000].forEach((drained, i) => {
      const { areaM2 } = sizeByFactor('sandy', depth, [
        { areaM2: drained * foot2, fromDownspoutM: 3 },
      ]);
      expect(areaM2 / foot2).toBeCloseTo(gardens[i], 9);
    });
  });

  it('give Illinois’ worked example: 750 ft2 of roof on loam, 6-7 in deep, 187.5 ft2', () => {
    const { areaM2, factors } = sizeByFactor('silty', 'middle', [
      { areaM2: 750 * foot2, fromDownspoutM: 5 },
    ]);
    expect(areaM2 / foot2).toBeCloseTo(187.5, 9);
    expect(factors[0].factor).toBe(0.25);
  });

  it('give Wisconsin’s worked example: a quarter of 2,400 ft2 on silty soil, shallow, 204 ft2', () => {
    const { areaM2 } = sizeByFactor('silty', 'shallow', [
      { areaM2: 600 * foot2, fromDownspoutM: 5 },
    ]);
    expect(areaM2 / foot2).toBeCloseTo(204, 9);
  });

  it('change at 30 ft from the downspout to one factor for every depth', () => {
    expect(nearDownspoutM).toBeCloseTo(30 * footM, 12);
    for (const [soil, far] of [
      ['sandy', 0.03],
      ['silty', 0.06],
      ['clayey', 0.1],
    ] as const) {
      expect(sizeFactor(soil, 'deep', 30 * footM).factor).toBe(far);
      expect(sizeFactor(soil, 'shallow', Infinity).factor).toBe(far);
      expect(sizeFactor(soil, 'shallow', 29.9 * footM).factor).toBeGreaterThan(far);
    }
  });

  it('take roofs and ground each by its own factor', () => {
    const { areaM2 } = sizeByFactor('clayey', 'shallow', [
      { areaM2: 50, fromDownspoutM: 4 },
      { areaM2: 100, fromDownspoutM: Infinity },
    ]);
    expect(areaM2).toBeCloseTo(50 * 0.43 + 100 * 0.1, 9);
  });

  it('carry the mark of each figure: only three were read in the guide itself', () => {
    const seen = sizeFactors.filter((row) => row.source.mark === 'seen').map((row) => row.factor);
    expect(seen).toEqual([0.19, 0.15, 0.34]);
    const copied = sizeFactors.filter((row) => row.source.mark === 'seen in a secondary copy');
    expect(copied.map((row) => row.factor)).toEqual([0.08, 0.25]);
  });
});

describe('the depth by slope', () => {
  it.each([
    [0, 'shallow'],
    [0.039, 'shallow'],
    [0.04, 'middle'],
    [0.045, 'middle'],
    [0.05, 'middle'],
    [0.07, 'middle'],
    [0.075, 'deep'],
    [0.08, 'deep'],
    [0.12, 'deep'],
    [0.121, null],
  ] as const)('a slope of %f is %s (the deeper row in the gaps)', (slope, depth) => {
    expect(depthForSlope(slope)).toBe(depth);
  });

  it('has 4, 6 and 8 in for its classes, which fall into them again', () => {
    expect(Object.values(classDepthM).map((depthM) => depthM / 0.0254)).toEqual([
      expect.closeTo(4, 9),
      expect.closeTo(6, 9),
      expect.closeTo(8, 9),
    ]);
    for (const [depth, depthM] of Object.entries(classDepthM))
      expect(classOfDepth(depthM)).toBe(depth);
    for (const inches of [3, 4, 5, 6, 7, 8, 10]) {
      const asCentimetres = Math.round(inches * 2.54) / 100;
      expect(classOfDepth(asCentimetres), `${inches} in`).toBe(classOfDepth(inches * 0.0254));
    }
    expect(classOfDepth(0.15)).toBe('middle');
    expect(classOfDepth(0.2)).toBe('deep');
    expect(classOfDepth(5.5 * 0.0254)).toBe('shallow');
  });
});
