import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DepthTableSettings } from '../../../lib/plan/storm-settings';
import { tableDepth } from '../../../lib/storm/depth-table';
import { curveOf, peakMmPerH, steepest } from '../../../lib/storm/mass-curve';
import { nrcsCurve, shorterCurve } from '../../../lib/storm/nrcs-curves';
import { totalMm } from '../../../lib/storm/rain-series';
import { stormSeries } from '../../../lib/storm/storm-series';

const within = { seed: 20_241, numRuns: 200 };
const depths = fc.array(fc.double({ min: 0, max: 40, noNaN: true }), {
  minLength: 1,
  maxLength: 40,
});

/** Tables like published ones: depth grows with duration and rarity, ever more slowly with duration. */
const table: fc.Arbitrary<DepthTableSettings> = fc
  .record({
    durations_min: fc.uniqueArray(fc.integer({ min: 1, max: 96 }), {
      minLength: 2,
      maxLength: 8,
    }),
    firstMm: fc.double({ min: 1, max: 30, noNaN: true }),
    exponents: fc.array(fc.double({ min: 0.05, max: 0.95, noNaN: true }), {
      minLength: 8,
      maxLength: 8,
    }),
    rarer: fc.double({ min: 1, max: 3, noNaN: true }),
  })
  .map(({ durations_min, firstMm, exponents, rarer }) => {
    const minutes = durations_min.map((each) => each * 15).sort((a, b) => a - b);
    const falling = [...exponents].sort((a, b) => b - a);
    const column: number[] = [firstMm];
    for (let i = 1; i < minutes.length; i++) {
      column.push(column[i - 1] * (minutes[i] / minutes[i - 1]) ** falling[i - 1]);
    }
    return {
      durations_min: minutes,
      return_periods_y: [2, 10],
      depths_mm: column.map((depth) => [depth, depth * rarer]),
    };
  });

describe('nested storms', () => {
  it('hold around the peak the depth of their table for every duration in whole steps', () => {
    fc.assert(
      fc.property(
        table,
        fc.constantFrom(300, 900, 1800),
        fc.double({ min: 2, max: 10, noNaN: true }),
        (each, stepS, years) => {
          const longestMin = each.durations_min[each.durations_min.length - 1];
          const rain_mm = tableDepth(each, longestMin, years).depthMm;
          const { series } = stormSeries(
            {
              rain_mm,
              pattern: 'nested',
              duration_h: longestMin / 60,
              depth_table: each,
              return_period_y: years,
            },
            { stepS },
          );
          expect(totalMm(series)).toBe(rain_mm);
          const most = Math.floor((longestMin * 60) / stepS);
          let worstMm = 0;
          for (let steps = 1; steps <= most; steps++) {
            const minutes = (steps * stepS) / 60;
            const inPeakMm = (peakMmPerH(series, minutes * 60) * minutes) / 60;
            const differs = Math.abs(inPeakMm - tableDepth(each, minutes, years).depthMm);
            worstMm = Math.max(worstMm, differs);
          }
          expect(worstMm).toBeLessThan(1e-6 * rain_mm);
        },
      ),
      within,
    );
  });
});

describe('depths off a table', () => {
  it('never fall with duration or rarity', () => {
    const share = fc.double({ min: 0.01, max: 1, noNaN: true });
    const years = fc.double({ min: 2, max: 10, noNaN: true });
    fc.assert(
      fc.property(table, share, share, years, years, (each, a, b, c, d) => {
        const longestMin = each.durations_min[each.durations_min.length - 1];
        const of = (part: number, period: number): number =>
          tableDepth(each, part * longestMin, period).depthMm;
        const less = of(Math.min(a, b), Math.min(c, d));
        expect(of(Math.max(a, b), Math.max(c, d))).toBeGreaterThanOrEqual(less - 1e-9);
      }),
      within,
    );
  });
});

describe('the steepest stretch', () => {
  it('of whole steps is that of the largest sum, wherever it lies', () => {
    fc.assert(
      fc.property(
        depths,
        fc.double({ min: 1, max: 5000, noNaN: true }),
        fc.nat(39),
        (each, stepS, n) => {
          const steps = 1 + (n % each.length);
          const sums = each
            .slice(0, each.length - steps + 1)
            .map((_, i) => each.slice(i, i + steps).reduce((a, b) => a + b, 0));
          const series = { stepS, depthsMm: Float64Array.from(each) };
          const peakMm = (peakMmPerH(series, steps * stepS) * steps * stepS) / 3600;
          expect(peakMm).toBeCloseTo(Math.max(...sums), 6);
        },
      ),
      within,
    );
  });

  it('is never less than the mean, and lies in the storm', () => {
    fc.assert(
      fc.property(depths, fc.double({ min: 0.001, max: 1, noNaN: true }), (each, part) => {
        const curve = curveOf({ stepS: 600, depthsMm: Float64Array.from(each) });
        const windowS = part * curve.durationS;
        const { fromS, share } = steepest(curve, windowS);
        expect(share).toBeGreaterThanOrEqual(part - 1e-9);
        expect(share).toBeLessThanOrEqual(1 + 1e-12);
        expect(fromS).toBeGreaterThanOrEqual(0);
        expect(fromS + windowS).toBeLessThanOrEqual(curve.durationS * (1 + 1e-12));
      }),
      within,
    );
  });

  it('of a 24-hour curve makes a whole curve of its own', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('nrcs-type-1', 'nrcs-type-1a', 'nrcs-type-2', 'nrcs-type-3'),
        fc.double({ min: 1, max: 86_399, noNaN: true }),
        (pattern, durationS) => {
          const { shares, ...rest } = shorterCurve(nrcsCurve(pattern), durationS);
          expect(rest.durationS).toBe(durationS);
          expect(shares[0]).toBe(0);
          expect(shares[shares.length - 1]).toBeCloseTo(1, 12);
          for (let i = 1; i < shares.length; i++) expect(shares[i]).toBeGreaterThan(shares[i - 1]);
        },
      ),
      within,
    );
  });
});
