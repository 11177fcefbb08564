import { describe, expect, it } from 'vitest';
import { shareAt, steepest } from '../../../lib/storm/mass-curve';
import { nrcsCurve, nrcsSources, type NrcsPattern } from '../../../lib/storm/nrcs-curves';
import { stormSeries } from '../../../lib/storm/storm-series';

const patterns = Object.keys(nrcsSources) as NrcsPattern[];
const at = (pattern: NrcsPattern, hour: number): number => shareAt(nrcsCurve(pattern), hour * 3600);

/** Applied Hydrology, Chow, Maidment and Mays, 1988, p. 461, read in a copy: hour, types I, IA, II, III. */
const textbook: readonly (readonly [number, number, number, number, number])[] = [
  [2, 0.035, 0.05, 0.022, 0.02],
  [4, 0.076, 0.116, 0.048, 0.043],
  [6, 0.125, 0.206, 0.08, 0.072],
  [7, 0.156, 0.268, 0.098, 0.089],
  [8, 0.194, 0.425, 0.12, 0.115],
  [8.5, 0.219, 0.48, 0.133, 0.13],
  [9, 0.254, 0.52, 0.147, 0.148],
  [9.5, 0.303, 0.55, 0.163, 0.167],
  [9.75, 0.362, 0.564, 0.172, 0.178],
  [10, 0.515, 0.577, 0.181, 0.189],
  [10.5, 0.583, 0.601, 0.204, 0.216],
  [11, 0.624, 0.624, 0.235, 0.25],
  [11.5, 0.654, 0.645, 0.283, 0.298],
  [12, 0.682, 0.664, 0.663, 0.5],
  [12.5, 0.706, 0.683, 0.735, 0.702],
  [13, 0.727, 0.701, 0.772, 0.751],
  [13.5, 0.748, 0.719, 0.799, 0.785],
  [14, 0.767, 0.736, 0.82, 0.811],
  [16, 0.83, 0.8, 0.88, 0.886],
  [20, 0.926, 0.906, 0.952, 0.957],
];

/** Drainage Criteria Manual of Austin, Texas, table 2-6 (read): type III, hour and minute. */
const austin: readonly (readonly [number, number, number])[] = [
  [0, 30, 0.005],
  [8, 5, 0.1163],
  [8, 30, 0.1284],
  [9, 0, 0.1458],
  [9, 20, 0.1589],
  [16, 10, 0.8903],
  [16, 30, 0.8984],
  [17, 0, 0.9095],
  [17, 20, 0.9162],
  [17, 25, 0.9178],
];

describe('the NRCS 24-hour distributions', () => {
  it.each(patterns)('%s rises from nothing to all of the rain', (pattern) => {
    const { shares } = nrcsCurve(pattern);
    expect(shares.length).toBe(241);
    expect(shares[0]).toBe(0);
    expect(shares[240]).toBe(1);
    for (let i = 1; i < shares.length; i++) expect(shares[i]).toBeGreaterThan(shares[i - 1]);
  });

  it.each(textbook)(
    'agree with the textbook table at %s h within 0.007 (seen in a secondary copy; its 11.75 h row is left out)',
    (hour, ...values) => {
      patterns.forEach((pattern, i) => {
        expect(Math.abs(at(pattern, hour) - values[i])).toBeLessThan(0.007);
      });
    },
  );

  it.each(austin)(
    'type III has the ordinate of the Austin manual at %s:%s (seen)',
    (hour, minute, share) => {
      expect(Math.abs(at('nrcs-type-3', hour + minute / 60) - share)).toBeLessThan(0.0005);
    },
  );

  it('type II follows the closed form of Haan, Barfield and Hayes 1994, eq 3.6 (seen in a secondary copy) away from the peak', () => {
    for (const hour of [2, 4, 6, 8, 9, 10, 11, 11.5, 13, 14, 16, 20]) {
      const t = hour - 12;
      const share = 0.5 + (t / 24) * (24.04 / (2 * Math.abs(t) + 0.04)) ** 0.75;
      expect(Math.abs(at('nrcs-type-2', hour) - share)).toBeLessThan(0.007);
    }
  });

  it('type II drops 0.452 of the day in the hour around noon, and passes 0.393 and not 0.357 at 11.75 h', () => {
    expect(at('nrcs-type-2', 11.5)).toBeCloseTo(0.283, 6);
    expect(at('nrcs-type-2', 12)).toBeCloseTo(0.663, 6);
    expect(at('nrcs-type-2', 12.5)).toBeCloseTo(0.735, 6);
    expect(at('nrcs-type-2', 12.5) - at('nrcs-type-2', 11.5)).toBeCloseTo(0.452, 6);
    expect(at('nrcs-type-2', 11.75)).toBeCloseTo(0.393, 3);
  });

  it.each([
    ['nrcs-type-1', 0.281, 9.4],
    ['nrcs-type-1a', 0.171, 7.4],
    ['nrcs-type-2', 0.454, 11.4],
    ['nrcs-type-3', 0.404, 11.5],
  ] as const)(
    '%s has its steepest hour where it belongs: %s from %s h (computed)',
    (pattern, share, hour) => {
      const found = steepest(nrcsCurve(pattern), 3600);
      expect(found.share).toBeCloseTo(share, 3);
      expect(found.fromS / 3600).toBeCloseTo(hour, 6);
    },
  );

  it('ranks their bursts as TR-55 appendix B does (seen): IA least intense, II most', () => {
    const burst = (pattern: NrcsPattern): number => steepest(nrcsCurve(pattern), 1800).share;
    const sorted = [...patterns].sort((a, b) => burst(a) - burst(b));
    expect(sorted[0]).toBe('nrcs-type-1a');
    expect(sorted[3]).toBe('nrcs-type-2');
  });

  it('keeps the depth and takes the hours with most rain for a shorter storm', () => {
    const { series, notes } = stormSeries({ rain_mm: 50, pattern: 'nrcs-type-2', duration_h: 6 });
    const day = nrcsCurve('nrcs-type-2');
    const six = steepest(day, 6 * 3600);
    const hour = (i: number): number => series.depthsMm.slice(0, i * 10).reduce((a, b) => a + b, 0);
    expect(hour(6)).toBe(50);
    const share = shareAt(day, six.fromS + 3 * 3600) - shareAt(day, six.fromS);
    expect(hour(3)).toBeCloseTo((50 * share) / six.share, 6);
    expect(notes.join()).toMatch(/common practice, no source/);
  });
});
