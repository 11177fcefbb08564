import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors';
import { alternatingBlocks } from '../../../lib/storm/alternating-block';
import { peakMmPerH } from '../../../lib/storm/mass-curve';
import { meltDays, meltRanges, usualMeltMmPerCDay } from '../../../lib/storm/melt';
import { rationalCoefficient, rationalPeakM3PerS } from '../../../lib/storm/rational-peak';
import type { SurfaceClass } from '../../../lib/storm/surface-class';
import { stormSeries } from '../../../lib/storm/storm-series';
import {
  channelFlowMPerS,
  concentrationS,
  lagS,
  sheetFlowS,
  sheetRoughness,
  shallowFlowMPerS,
} from '../../../lib/storm/travel-time';
import { cubicFootM3, footM, inchM, squareFootM2 } from '../../../lib/units/units';

const inchMm = inchM / 0.001;

describe('the alternating block method, Applied Hydrology example 14.4.1 (from memory, recomputed): Denver, 10 years', () => {
  /** Depth in so many minutes, inches: i = 96.6 / (t^0.97 + 13.9). */
  const depthIn = (minutes: number): number => ((96.6 / (minutes ** 0.97 + 13.9)) * minutes) / 60;
  const grown = Array.from({ length: 12 }, (_, i) => depthIn(10 * (i + 1)));
  const arranged = [
    0.024, 0.033, 0.05, 0.084, 0.178, 0.693, 0.308, 0.117, 0.063, 0.04, 0.028, 0.021,
  ];

  it('arranges the blocks as printed', () => {
    alternatingBlocks(grown).forEach((block, i) => {
      expect(Math.abs(block - arranged[i])).toBeLessThan(0.001);
    });
  });

  it('holds 1.639 in', () => {
    expect(alternatingBlocks(grown).reduce((a, b) => a + b, 0)).toBeCloseTo(1.639, 3);
  });

  it('gives each duration its depth around the peak, through a table of the same curve', () => {
    const durations_min = Array.from({ length: 12 }, (_, i) => 10 * (i + 1));
    const { series } = stormSeries(
      {
        rain_mm: depthIn(120) * inchMm,
        duration_h: 2,
        pattern: 'nested',
        return_period_y: 10,
        depth_table: {
          durations_min,
          return_periods_y: [10],
          depths_mm: durations_min.map((minutes) => [depthIn(minutes) * inchMm]),
        },
      },
      { stepS: 600 },
    );
    for (const minutes of durations_min) {
      const depth = (peakMmPerH(series, minutes * 60) * minutes) / 60;
      expect(depth / inchMm).toBeCloseTo(depthIn(minutes), 6);
    }
  });
});

describe('times of flow, TR-55 example 3-1 (seen)', () => {
  const sheet = {
    lengthM: 100 * footM,
    slope: 0.01,
    roughness: sheetRoughness['dense grass'],
    rain2yMm: 3.6 * inchMm,
  };
  const shallow = { lengthM: 1400 * footM, slope: 0.01, isPaved: false };

  it('takes 0.30 h as a sheet over 100 ft of dense grass', () => {
    expect(sheetFlowS(sheet) / 3600).toBeCloseTo(0.296, 2);
  });

  it('takes 0.24 h at 1.6 ft/s over 1,400 ft in runnels', () => {
    expect(shallowFlowMPerS(0.01, false) / footM).toBeCloseTo(1.6, 1);
    expect(shallow.lengthM / shallowFlowMPerS(0.01, false) / 3600).toBeCloseTo(0.24, 2);
    expect(shallowFlowMPerS(0.01, true) / footM).toBeCloseTo(2.03, 2);
  });

  const channel = {
    lengthM: 7300 * footM,
    sectionM2: 27 * squareFootM2,
    wettedM: 28.2 * footM,
    slope: 0.005,
    roughness: 0.05,
  };

  it('takes 0.99 h at 2.05 ft/s over 7,300 ft in a channel of 27 ft2 with 28.2 ft wetted', () => {
    expect(Math.abs(channelFlowMPerS(channel) / footM - 2.05)).toBeLessThan(0.01);
    expect(Math.abs(channel.lengthM / channelFlowMPerS(channel) / 3600 - 0.99)).toBeLessThan(0.005);
  });

  it('comes to 1.53 h with all three', () => {
    const sheetAndRunnelsS = concentrationS({ sheet, shallow });
    const whole = concentrationS({ sheet, shallow, channel });
    expect(Math.abs(whole / 3600 - 1.53)).toBeLessThan(0.01);
    expect(whole - sheetAndRunnelsS).toBeCloseTo(channel.lengthM / channelFlowMPerS(channel), 6);
    expect(concentrationS({ sheet, shallow, channel: { ...channel, lengthM: 0 } })).toBe(
      sheetAndRunnelsS,
    );
  });

  it('flows as fast in a wide channel as Manning has it for its depth', () => {
    const depthM = 0.2;
    const wide = { sectionM2: 1000 * depthM, wettedM: 1000 + 2 * depthM, slope: 0.01 };
    expect(channelFlowMPerS({ ...wide, roughness: 0.03 })).toBeCloseTo(
      (depthM ** (2 / 3) * 0.1) / 0.03,
      3,
    );
  });

  it.each([
    ['level', { slope: 0 }, /slope of its channel/],
    ['without a section', { sectionM2: 0 }, /no section/],
    ['without a wetted length', { wettedM: 0 }, /no section/],
    ['without roughness', { roughness: 0 }, /no section/],
  ])('refuses a channel %s', (_, change, words) => {
    const way = { sheet, shallow, channel: { ...channel, ...change } };
    expect(() => concentrationS(way)).toThrow(InputError);
    expect(() => concentrationS(way)).toThrow(words);
  });

  it('adds sheet and runnels up, and the lag is 0.6 of it (from memory)', () => {
    const whole = concentrationS({ sheet, shallow });
    expect(whole / 3600).toBeCloseTo(0.54, 2);
    expect(lagS(whole)).toBeCloseTo(0.6 * whole, 9);
  });

  it('is 5 minutes at least', () => {
    const near = { sheet: { ...sheet, lengthM: 1 }, shallow: { ...shallow, lengthM: 0 } };
    expect(concentrationS(near)).toBe(300);
  });

  it.each([
    ['longer than 300 ft', { lengthM: 92 }],
    ['level', { slope: 0 }],
    ['without its 2-year rain', { rain2yMm: 0 }],
  ])('refuses a sheet %s', (_, change) => {
    expect(() => sheetFlowS({ ...sheet, ...change })).toThrow(InputError);
  });

  it('refuses level runnels', () => {
    expect(() => concentrationS({ sheet, shallow: { ...shallow, slope: 0 } })).toThrow(/slope/);
  });
});

describe('the rational method', () => {
  it('gives 0.0833 cfs off 1,000 ft2 of roof, C 0.9, in 4 in/h (computed with the exact factor)', () => {
    const peak = rationalPeakM3PerS(
      [{ areaM2: 1000 * squareFootM2, coefficient: 0.9 }],
      4 * inchMm,
    );
    expect(peak / cubicFootM3).toBeCloseTo((1.00833 * 0.9 * 4 * 1000) / 43_560, 6);
    expect(peak / cubicFootM3).toBeCloseTo(0.0833, 4);
    // With the factor dropped, as is commonly done.
    expect(peak / cubicFootM3 / 1.00833).toBeCloseTo(0.0826, 4);
  });

  it('takes the ranges of the published tables (seen)', () => {
    const range = (
      cover: Exclude<SurfaceClass['cover'], 'basin'>,
      group: SurfaceClass['group'],
      slope: number,
    ) => {
      const { least, greatest } = rationalCoefficient({ cover, group }, slope);
      return [least, greatest];
    };
    expect(range('roof', 'C', 0)).toEqual([0.75, 0.95]);
    expect(range('paving', 'C', 0)).toEqual([0.75, 0.85]);
    expect(range('lawn', 'B', 0.01)).toEqual([0.05, 0.1]);
    expect(range('lawn', 'C', 0.05)).toEqual([0.18, 0.22]);
    expect(range('lawn', 'C', 0.1)).toEqual([0.25, 0.35]);
    expect(range('lawn', 'B', 0.05)).toEqual([0.1, 0.15]);
    expect(range('lawn', 'A', 0.1)).toEqual([0.15, 0.2]);
    expect(range('lawn', 'D', 0.01)).toEqual([0.13, 0.17]);
    expect(range('bed', 'C', 0)).toEqual([0.1, 0.3]);
    expect(range('bare', 'C', 0)).toEqual([0.3, 0.6]);
    // Everett's table has one figure for flat ground and one for rolling
    const flatAndRolling = { gravel: [0.75, 0.8], meadow: [0.2, 0.25], woods: [0.05, 0.1] };
    for (const [cover, figures] of Object.entries(flatAndRolling)) {
      const found = [0.01, 0.05].map((slope) =>
        range(cover as keyof typeof flatAndRolling, 'C', slope),
      );
      expect(found).toEqual(figures.map((figure) => [figure, figure]));
    }
  });
});

describe('degree-day melt (HDS-2 eq 9.16, seen; NEH 630-11 coefficients, seen in a secondary copy)', () => {
  it('melts 0.60 in on a day of 42 F with 0.06 in for each degree Fahrenheit and day (computed)', () => {
    const mean_c = (42 - 32) / 1.8;
    const [day] = meltDays({ snow_water_mm: 100, days: [{ mean_c }], ground: 'frozen' });
    expect(day.meltMm / inchMm).toBeCloseTo(0.6, 2);
    expect(0.06 * inchMm * 1.8).toBeCloseTo(usualMeltMmPerCDay, 2);
  });

  it('has the published ranges: 0.035 to 0.13 and 0.04 to 0.08 in for each degree Fahrenheit and day', () => {
    const perC = (inPerF: number): number => Number((inPerF * inchMm * 1.8).toFixed(1));
    expect(meltRanges.handbook).toEqual([perC(0.035), 6]);
    expect(perC(0.13)).toBeCloseTo(6, 0);
    expect(meltRanges.highway).toEqual([perC(0.04), perC(0.08)]);
  });
});
