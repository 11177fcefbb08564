import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Settings } from '../../../lib/plan/schema';
import type { StormSettings, ThawSettings } from '../../../lib/plan/storm-settings';
import { alternatingBlocks } from '../../../lib/storm/alternating-block';
import { antecedentCurveNumber } from '../../../lib/storm/antecedent';
import { exactSteps } from '../../../lib/storm/exact-steps';
import { resample } from '../../../lib/storm/mass-curve';
import { meltDays } from '../../../lib/storm/melt';
import { percentileDepth } from '../../../lib/storm/percentile-depth';
import { totalMm } from '../../../lib/storm/rain-series';
import { runOffMm } from '../../../lib/storm/run-off';
import { runOffLaw } from '../../../lib/storm/run-off-law';
import { stormSeries } from '../../../lib/storm/storm-series';
import type { SurfaceClass } from '../../../lib/storm/surface-class';
import { waterEvent } from '../../../lib/storm/water-event';

const seed = 20_240;
const within = { seed, numRuns: 300 };
/** Rounding in the last bits of a depth of metres. */
const bitsMm = 1e-9;

const depthMm = fc.oneof(
  fc.constant(0),
  fc.double({ min: 1e-6, max: 2000, noNaN: true }),
  fc.integer({ min: 1, max: 2000 }),
);
const stepS = fc.integer({ min: 60, max: 7200 });

const storm: fc.Arbitrary<StormSettings> = fc
  .record({
    rain_mm: depthMm,
    duration_h: fc.double({ min: 0, max: 72, noNaN: true }),
    pattern: fc.constantFrom(
      ...(['uniform', 'nrcs-type-1', 'nrcs-type-1a', 'nrcs-type-2', 'nrcs-type-3'] as const),
      ...(['nested', 'measured'] as const),
    ),
    antecedent: fc.constantFrom('dry', 'average', 'wet'),
    depths_mm: fc.array(fc.double({ min: 0, max: 60, noNaN: true }), {
      minLength: 1,
      maxLength: 40,
    }),
    step_min: fc.integer({ min: 1, max: 90 }),
    exponent: fc.double({ min: 0.15, max: 0.9, noNaN: true }),
  })
  .map(({ depths_mm, step_min, exponent, ...rest }) => ({
    ...rest,
    measured: { step_min, depths_mm },
    return_period_y: 5,
    depth_table: {
      durations_min: [5, 60, 1440, 4320],
      return_periods_y: [2, 10],
      depths_mm: [5, 60, 1440, 4320].map((minutes) => [
        4 * minutes ** exponent,
        7 * minutes ** exponent,
      ]),
    },
  }));

const thaw: fc.Arbitrary<ThawSettings> = fc.record({
  snow_water_mm: fc.double({ min: 0, max: 300, noNaN: true }),
  days: fc.array(
    fc.record({
      mean_c: fc.double({ min: -10, max: 15, noNaN: true }),
      rain_mm: fc.double({ min: 0, max: 60, noNaN: true }),
    }),
    { minLength: 1, maxLength: 8 },
  ),
  melt_mm_per_c_day: fc.double({ min: 0, max: 10, noNaN: true }),
  ground: fc.constantFrom('frozen', 'wet', 'thawed'),
});

const surface: fc.Arbitrary<SurfaceClass> = fc.record({
  cover: fc.constantFrom(
    'roof',
    'lawn',
    'bed',
    'woods',
    'meadow',
    'gravel',
    'paving',
    'deck',
    'bare',
  ),
  condition: fc.constantFrom('poor', 'fair', 'good'),
  group: fc.constantFrom('A', 'B', 'C', 'D'),
});

const event: fc.Arbitrary<Settings> = fc.oneof(
  storm.map((each): Settings => ({ version: 1, event: 'storm', storm: each })),
  thaw.map((each): Settings => ({ version: 1, event: 'thaw', thaw: each })),
);

describe('rain over time', () => {
  it('sums up to the depth of the storm to the last bit, forwards and backwards, in any steps', () => {
    fc.assert(
      fc.property(storm, stepS, (each, step) => {
        const { series } = stormSeries(each, { stepS: step });
        expect(totalMm(series)).toBe(each.rain_mm);
        expect(totalMm({ ...series, depthsMm: series.depthsMm.slice().reverse() })).toBe(
          each.rain_mm,
        );
        expect(Math.min(...series.depthsMm)).toBeGreaterThanOrEqual(0);
      }),
      within,
    );
  });

  it('loses nothing in other steps', () => {
    fc.assert(
      fc.property(storm, stepS, stepS, (each, first, second) => {
        const { series } = stormSeries(each, { stepS: first });
        expect(totalMm(resample(series, second))).toBe(each.rain_mm);
      }),
      within,
    );
  });

  it('cuts any rising curve into steps that sum up exactly', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.double({ min: Number.MIN_VALUE, max: 1e300, noNaN: true }),
          // Just below a power of two.
          fc.integer({ min: -20, max: 20 }).map((power) => 2 ** power * (1 - 2 ** -53)),
        ),
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 60 }),
        (total, shares) => {
          const rising = [...shares].sort((a, b) => a - b);
          const steps = exactSteps(rising.length, total, (step) => total * rising[step - 1]);
          let sum = 0;
          for (const step of steps) sum += step;
          expect(sum).toBe(total);
          expect(Math.min(...steps)).toBeGreaterThanOrEqual(0);
        },
      ),
      within,
    );
  });

  it('nests: around the peak each number of blocks holds the largest ones', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 10, noNaN: true }), { minLength: 1, maxLength: 50 }),
        (increments) => {
          let sum = 0;
          const blocks = alternatingBlocks(increments.map((each) => (sum += each)));
          const falling = [...blocks].sort((a, b) => b - a);
          const middle = Math.floor((blocks.length - 1) / 2);
          falling.forEach((_, rank) => {
            const left = middle - Math.floor(rank / 2);
            const stretch = blocks.slice(left, left + rank + 1).sort((a, b) => b - a);
            expect(stretch).toEqual(falling.slice(0, rank + 1));
          });
        },
      ),
      within,
    );
  });
});

describe('run-off over time', () => {
  it('sums up to its total to the last bit, is never negative and never more than what comes', () => {
    fc.assert(
      fc.property(event, surface, stepS, (settings, each, step) => {
        const water = waterEvent(settings, { stepS: step });
        const { totalMm: total, series } = water.runOff(each);
        expect(totalMm(series)).toBe(total);
        expect(totalMm(water.series)).toBe(water.totalMm);
        expect(total).toBeLessThanOrEqual(water.totalMm + bitsMm);
        expect(series.depthsMm.length).toBeLessThanOrEqual(water.series.depthsMm.length);
        // One comparison for all steps: each costs more than the storm itself.
        expect(series.depthsMm.every((depth) => depth >= 0)).toBe(true);
        expect(
          series.depthsMm.every((depth, i) => depth <= water.series.depthsMm[i] + bitsMm),
        ).toBe(true);
      }),
      within,
    );
  });

  it('comes to what the law for the whole event says, in any steps', () => {
    fc.assert(
      fc.property(event, surface, stepS, (settings, each, step) => {
        const law = runOffLaw(settings).runOffMm(each);
        expect(waterEvent(settings, { stepS: step }).runOff(each).totalMm).toBe(law);
      }),
      within,
    );
  });

  it('grows with the event', () => {
    fc.assert(
      fc.property(event, surface, depthMm, depthMm, (settings, each, a, b) => {
        const [less, more] = [Math.min(a, b), Math.max(a, b)];
        const of = (depth: number): number => runOffLaw(settings, depth).runOffMm(each);
        expect(of(more)).toBeGreaterThanOrEqual(of(less) - bitsMm);
        expect(of(more)).toBeLessThanOrEqual(more + bitsMm);
        expect(of(0)).toBe(0);
      }),
      within,
    );
  });

  it('grows with the curve number and with wetness', () => {
    const number = fc.double({ min: 30, max: 98, noNaN: true });
    fc.assert(
      fc.property(depthMm, number, number, (rain, a, b) => {
        const [less, more] = [Math.min(a, b), Math.max(a, b)];
        expect(runOffMm(rain, more)).toBeGreaterThanOrEqual(runOffMm(rain, less) - bitsMm);
        for (const state of ['dry', 'wet'] as const) {
          expect(antecedentCurveNumber(more, state)).toBeGreaterThanOrEqual(
            antecedentCurveNumber(less, state),
          );
        }
        expect(antecedentCurveNumber(a, 'dry')).toBeLessThan(a);
        expect(antecedentCurveNumber(a, 'wet')).toBeGreaterThan(a);
      }),
      within,
    );
  });
});

describe('melt', () => {
  it('leaves as much as it takes, and no snow owes water', () => {
    fc.assert(
      fc.property(thaw, (each) => {
        let left = each.snow_water_mm;
        for (const { meltMm, snowLeftMm } of meltDays(each)) {
          expect(meltMm).toBeGreaterThanOrEqual(0);
          expect(snowLeftMm).toBeGreaterThanOrEqual(0);
          expect(snowLeftMm).toBeCloseTo(left - meltMm, 9);
          left = snowLeftMm;
        }
      }),
      within,
    );
  });
});

describe('percentile depths', () => {
  it('are not exceeded by their share of events, and no smaller event will do', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 3, max: 200, noNaN: true }), { minLength: 1, maxLength: 60 }),
        fc.integer({ min: 1, max: 100 }),
        (events, percent) => {
          const share = percent / 100;
          const found = percentileDepth({ name: 'r', eventsMm: Float64Array.from(events) }, share);
          const notMore = (depth: number): number => events.filter((each) => each <= depth).length;
          expect(notMore(found.depthMm)).toBeGreaterThanOrEqual(share * events.length - 1e-6);
          const next = Math.max(...events.filter((each) => each < found.depthMm));
          if (Number.isFinite(next)) {
            expect(notMore(next)).toBeLessThan(share * events.length);
          }
        },
      ),
      within,
    );
  });
});
