import { describe, expect, it } from 'vitest';
import { outlineFiller, type OutlineToFill } from '../../../../lib/basin/filling/outline-filler';
import type { Settings } from '../../../../lib/plan/schema';
import { runOffMm } from '../../../../lib/storm/run-off';
import { box } from '../../ground/plane-lot';

const settings: Settings = {
  version: 1,
  soil: { group: 'C', texture: 'silty' },
  storm: { rain_mm: 40, duration_h: 6, pattern: 'uniform' },
};
const lawn = [{ surface: { cover: 'lawn', condition: 'good', group: 'C' } as const, share: 1 }];
const outline: OutlineToFill = {
  rim: box(0, 0, 5, 4),
  areaM2: 20,
  pondingDepthM: 0.15,
  sideSlope: 3,
  groundM2: 200,
  roofM2: 80,
};

describe('the storm through an outline', () => {
  it('brings what runs off roof and ground, and what falls on it', () => {
    const fill = outlineFiller(settings, [], lawn);
    if (typeof fill !== 'function') throw new Error(fill.unknown);
    const found = fill(outline);
    const expected = (200 * runOffMm(40, 74) + 80 * runOffMm(40, 98) + 20 * 40) / 1000;
    expect(found.inflowM3).toBeCloseTo(expected, 9);
    expect(found.capturedFraction).toBeCloseTo(1 - found.overflowM3 / found.inflowM3, 12);
    expect(found.afterRainH).toBeLessThan(found.fromFullH ?? 0);
    const small = fill({ ...outline, areaM2: 5 });
    expect(small.capturedFraction).toBeLessThan(found.capturedFraction);
  });

  it('takes the rim for its form alone', () => {
    const fill = outlineFiller(settings, [], lawn);
    if (typeof fill !== 'function') throw new Error(fill.unknown);
    const scaled = fill({ ...outline, rim: box(0, 0, 10, 8) });
    const asIs = fill(outline);
    for (const figure of ['overflowM3', 'afterRainH', 'fromFullH'] as const)
      expect(scaled[figure]).toBeCloseTo(asIs[figure] ?? NaN, 6);
    // A second size of the same rim is that of a rim never seen before.
    expect(fill({ ...outline, areaM2: 10 })).toEqual(
      fill({ ...outline, rim: box(0, 0, 5, 4), areaM2: 10 }),
    );
  });

  it('says why not on soil that nobody knows', () => {
    const unknown = outlineFiller({ ...settings, soil: {} }, [], lawn);
    expect(unknown).toEqual({
      unknown: expect.stringContaining('Nothing is known of the soil') as string,
    });
  });
});
