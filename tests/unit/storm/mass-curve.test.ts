import { describe, expect, it } from 'vitest';
import { curveOf, evenCurve, peakMmPerH, shareAt, steepest } from '../../../lib/storm/mass-curve';

describe('the steepest stretch of a storm', () => {
  const series = (stepS: number, ...depths: number[]) => ({
    stepS,
    depthsMm: Float64Array.from(depths),
  });

  it('may begin or end between steps', () => {
    // Three quarters of an hour: all of the wetter half hour, and half of the one beside it.
    expect(peakMmPerH(series(1800, 0, 6, 12, 0), 2700)).toBeCloseTo(15 / 0.75, 9);
    expect(peakMmPerH(series(1800, 0, 12, 6, 0), 2700)).toBeCloseTo(15 / 0.75, 9);
    expect(steepest(curveOf(series(1800, 0, 6, 12, 0)), 2700).fromS).toBeCloseTo(2700, 9);
  });

  it('is found at the very end, where rounding puts that beyond the storm', () => {
    for (const [count, stepS, wet] of [
      [11, 86_400 / 241, 2],
      [18, 0.1, 7],
      [19, 0.7, 4],
    ]) {
      const depths = Array.from({ length: count }, (_, i) => (i < count - wet ? 0 : 1));
      expect(steepest(curveOf(series(stepS, ...depths)), wet * stepS).share).toBeCloseTo(1, 9);
    }
  });

  it('is the whole storm for a longer time than it lasts', () => {
    expect(steepest(evenCurve(600), 1200)).toEqual({ fromS: 0, share: 1 });
    expect(peakMmPerH(series(600, 1, 2), 3600)).toBe(3);
  });
});

describe('the share that has come', () => {
  it('is nothing before the storm and all of it after, straight between steps', () => {
    const curve = curveOf({ stepS: 100, depthsMm: Float64Array.of(1, 3) });
    expect([-5, 0, 50, 100, 150, 200, 250, 500].map((timeS) => shareAt(curve, timeS))).toEqual([
      0, 0, 0.125, 0.25, 0.625, 1, 1, 1,
    ]);
  });

  it('of a dry storm grows evenly', () => {
    const curve = curveOf({ stepS: 100, depthsMm: new Float64Array(2) });
    expect(shareAt(curve, 50)).toBe(0.25);
  });
});
