import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors';
import type { DepthTableSettings, StormSettings } from '../../../lib/plan/storm-settings';
import { tableDepth } from '../../../lib/storm/depth-table';
import { eventDuration } from '../../../lib/storm/event-duration';
import { exactSteps } from '../../../lib/storm/exact-steps';
import { peakMmPerH, resample } from '../../../lib/storm/mass-curve';
import { totalMm } from '../../../lib/storm/rain-series';
import { refuseImpossibleStorm, stormSeries } from '../../../lib/storm/storm-series';

const table: DepthTableSettings = {
  durations_min: [15, 60, 360, 1440],
  return_periods_y: [2, 10, 100],
  depths_mm: [
    [10, 16, 24],
    [20, 32, 48],
    [35, 56, 84],
    [50, 80, 120],
  ],
};

describe('the rain of a storm over time', () => {
  it('falls evenly for the duration given', () => {
    const { series, notes } = stormSeries(
      { rain_mm: 25.4, pattern: 'uniform', duration_h: 2 },
      { stepS: 900 },
    );
    expect(series.depthsMm.length).toBe(8);
    expect(totalMm(series)).toBe(25.4);
    for (const depth of series.depthsMm) expect(depth).toBeCloseTo(25.4 / 8, 12);
    expect(notes).toEqual([]);
  });

  it('says so when the duration is taken', () => {
    expect(stormSeries({ rain_mm: 25 }).notes.join()).toMatch(/not given.*1 h/);
  });

  it('cuts the last step short where the storm ends in it', () => {
    const { series } = stormSeries({ rain_mm: 10, duration_h: 1 }, { stepS: 1000 });
    expect(Array.from(series.depthsMm, (depth) => Number(depth.toFixed(3)))).toEqual([
      2.778, 2.778, 2.778, 1.667,
    ]);
  });

  it('ends a 24-hour pattern after a day however long the storm, and takes the hardest part of it for a shorter one', () => {
    const day = stormSeries({ rain_mm: 50, pattern: 'nrcs-type-2' });
    const long = stormSeries({ rain_mm: 50, pattern: 'nrcs-type-2', duration_h: 36 });
    expect([...long.series.depthsMm]).toEqual([...day.series.depthsMm]);
    expect(day.notes).toEqual([]);
    expect(long.notes.join()).toMatch(/first 24 of the 36 h/);
    const short = stormSeries({ rain_mm: 50, pattern: 'nrcs-type-2', duration_h: 6 });
    expect(short.series.depthsMm.length).toBe(60);
    expect(short.notes.join()).toMatch(/the 6 h with most rain .* no source/);
  });

  it('is refused where more falls than ever did in its time, however long that is', () => {
    // Real extremes lie within: Holt 1947, Plumb Point 1916, Cilaos 2007, Cherrapunji 1861 (from memory).
    for (const [rain_mm, duration_h] of [
      [305, 0.7],
      [198, 0.25],
      [1400, 24],
      [1900, 36],
    ]) {
      expect(() => {
        refuseImpossibleStorm({ rain_mm, duration_h });
      }).not.toThrow();
    }
    for (const [rain_mm, duration_h] of [
      [310, 1],
      [300, 0.25],
      [1000, 2],
      [1900, 12],
    ]) {
      expect(() => {
        refuseImpossibleStorm({ rain_mm, duration_h });
      }).toThrow(/more than/);
    }
    expect(() => {
      refuseImpossibleStorm({ rain_mm: 1900 });
    }).toThrow(/in 24 h/);
    expect(() => {
      refuseImpossibleStorm({ rain_mm: 400 });
    }).not.toThrow();
  });

  it('lets nothing fall again of what a total has come to', () => {
    const grown = [4, 3, 3.5, 6];
    const steps = exactSteps(5, 8, (step) => grown[step - 1]);
    expect([...steps]).toEqual([4, 0, 0, 2, 2]);
  });

  it('puts all of a storm without length into one step', () => {
    for (const pattern of ['uniform', 'nrcs-type-2', 'nested'] as const) {
      const { series } = stormSeries({
        rain_mm: 7,
        duration_h: 0,
        pattern,
        depth_table: table,
        return_period_y: 2,
      });
      expect([...series.depthsMm]).toEqual([7]);
    }
  });

  it('gives a nested storm the depths of its table for every duration', () => {
    const { series, notes } = stormSeries(
      { rain_mm: 80, pattern: 'nested', duration_h: 24, depth_table: table, return_period_y: 10 },
      { stepS: 900 },
    );
    expect(notes).toEqual([]);
    for (const [minutes, depth] of [
      [15, 16],
      [60, 32],
      [360, 56],
      [1440, 80],
    ]) {
      expect((peakMmPerH(series, minutes * 60) * minutes) / 60).toBeCloseTo(depth, 6);
    }
  });

  it('says when it scales the blocks, and where the table is shorter than a step', () => {
    const { series, notes } = stormSeries(
      { rain_mm: 40, pattern: 'nested', duration_h: 24, depth_table: table, return_period_y: 10 },
      { stepS: 300 },
    );
    expect(totalMm(series)).toBe(40);
    expect(notes.join(' ')).toMatch(/begins at 15 min/);
    expect(notes.join(' ')).toMatch(/gives 80 mm in 24 h once in 10 years.*scaled to.*40 mm/);
  });

  it('lasts a day, or as long as the table, when nested without a duration', () => {
    const storm: StormSettings = {
      rain_mm: 80,
      pattern: 'nested',
      depth_table: table,
      return_period_y: 10,
    };
    expect(stormSeries(storm, { stepS: 3600 }).series.depthsMm.length).toBe(24);
    expect(eventDuration({ storm })).toEqual({ hours: 24, isKnown: true });
    const short = {
      ...table,
      durations_min: table.durations_min.slice(0, 3),
      depths_mm: table.depths_mm.slice(0, 3),
    };
    expect(eventDuration({ storm: { ...storm, depth_table: short } }).hours).toBe(6);
  });

  it.each<[string, StormSettings, string]>([
    ['a table', { rain_mm: 10, pattern: 'nested', return_period_y: 2 }, 'storm-no-table'],
    ['a return period', { rain_mm: 10, pattern: 'nested', depth_table: table }, 'storm-no-table'],
    ['a measured storm', { rain_mm: 10, pattern: 'measured' }, 'storm-no-measured'],
  ])('asks for %s that it needs', (_, storm, code) => {
    expect(() => stormSeries(storm)).toThrow(expect.objectContaining({ code }) as Error);
  });

  it('tells a storm that outlasts its table its own length', () => {
    expect(() =>
      stormSeries({
        rain_mm: 10,
        pattern: 'nested',
        duration_h: 72,
        depth_table: table,
        return_period_y: 10,
      }),
    ).toThrow(/ends at 24 h, the storm lasts 3 days/);
  });

  it('scales a measured storm and says so', () => {
    const storm: StormSettings = {
      rain_mm: 30,
      pattern: 'measured',
      duration_h: 5,
      measured: { step_min: 10, depths_mm: [1, 5, 0, 4] },
    };
    const { series, notes } = stormSeries(storm, { stepS: 600 });
    expect([...series.depthsMm]).toEqual([3, 15, 0, 12]);
    expect(notes[0]).toMatch(/brought 10 mm; it is scaled to 30 mm/);
    expect(notes[1]).toMatch(/lasts 40 min; the duration of 5 h is not used/);
    expect(eventDuration({ storm }).hours).toBeCloseTo(2 / 3, 12);
  });

  it('says nothing when a measured storm keeps its depth', () => {
    const measured = { step_min: 10, depths_mm: [1, 5, 0, 4] };
    expect(stormSeries({ rain_mm: 10, pattern: 'measured', measured }).notes).toEqual([]);
  });

  it('keeps the shape of a storm in finer steps', () => {
    const coarse = { stepS: 600, depthsMm: Float64Array.of(3, 15, 0, 12) };
    expect([...resample(coarse, 300).depthsMm]).toEqual([1.5, 1.5, 7.5, 7.5, 0, 0, 6, 6]);
    expect(resample(coarse, 600)).toBe(coarse);
  });

  it('knows how long each pattern lasts', () => {
    expect(eventDuration({})).toEqual({ hours: 1, isKnown: false });
    expect(eventDuration({ storm: { rain_mm: 1, pattern: 'nrcs-type-3' } }).hours).toBe(24);
    expect(eventDuration({ storm: { rain_mm: 1, duration_h: 3 } }).hours).toBe(3);
    const thaw = { snow_water_mm: 1, days: [{ mean_c: 1 }, { mean_c: 2 }], ground: 'wet' } as const;
    expect(eventDuration({ event: 'thaw', thaw: { ...thaw, days: [...thaw.days] } }).hours).toBe(
      48,
    );
  });
});

describe('a depth off a table', () => {
  it('is that of the row and column where there is one', () => {
    expect(tableDepth(table, 60, 10)).toEqual({ depthMm: 32, note: null });
  });

  it('lies on the line through the logarithms between them', () => {
    expect(tableDepth(table, 30, 10).depthMm).toBeCloseTo(Math.sqrt(16 * 32), 9);
    expect(tableDepth(table, 60, Math.sqrt(1000)).depthMm).toBeCloseTo(Math.sqrt(32 * 48), 9);
  });

  it('falls evenly within the shortest duration, and says so', () => {
    const { depthMm, note } = tableDepth(table, 5, 10);
    expect(depthMm).toBeCloseTo(16 / 3, 9);
    expect(note).toMatch(/begins at 15 min/);
  });

  it.each([
    [2000, 10, /ends at 24 h/],
    [60, 1, /from 2 to 100 years, not 1/],
    [60, 200, /from 2 to 100 years, not 200/],
  ])('is refused for %s minutes and %s years', (minutes, years, words) => {
    expect(() => tableDepth(table, minutes, years)).toThrow(InputError);
    expect(() => tableDepth(table, minutes, years)).toThrow(words);
  });

  it.each([
    [[10, 16, 24], [20, 15, 48], /for 10 years it has less rain in 1 h than in 15 min/],
    [[10, 16, 15], [20, 32, 48], /for 15 min it has less rain in 100 years than in 10/],
  ])('is refused where a table written by hand falls', (first, second, words) => {
    const falls = { ...table, depths_mm: [first, second, ...table.depths_mm.slice(2)] };
    expect(() => tableDepth(falls, 360, 2)).toThrow(words);
  });
});
