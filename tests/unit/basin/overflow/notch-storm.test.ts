import { describe, expect, it } from 'vitest';
import { fillAndDrain } from '../../../../lib/basin/filling/fill-and-drain';
import { notchFlows } from '../../../../lib/basin/overflow/notch-flow';
import { notchStorm } from '../../../../lib/basin/overflow/notch-storm';
import { twoYearRain } from '../../../../lib/basin/filling/two-year-rain';
import type { Settings } from '../../../../lib/plan/schema';
import { inflow, layer, onSoil, roundBowl } from '../made-basins';

const table = {
  durations_min: [60, 1440],
  return_periods_y: [2, 100, 500],
  depths_mm: [
    [30, 70, 100],
    [60, 140, 190],
  ],
};
const settings = (storm: Partial<NonNullable<Settings['storm']>>): Settings => ({
  version: 1,
  storm: { rain_mm: 40, duration_h: 24, pattern: 'uniform', ...storm },
});

describe('the storm that a notch is made for', () => {
  it('is the one asked for, in the pattern of the plan’s own', () => {
    const found = notchStorm(settings({ pattern: 'nrcs-type-2' }), 95);
    expect(found).toMatchObject({ rainMm: 95, from: 'plan', returnPeriodY: null });
    expect(found.settings.storm).toMatchObject({
      rain_mm: 95,
      pattern: 'nrcs-type-2',
      duration_h: 24,
    });
  });

  it('else the rarest of the depth table up to 100 years, as long as the storm', () => {
    expect(notchStorm(settings({ depth_table: table }), undefined)).toMatchObject({
      rainMm: 140,
      from: 'depth-table',
      returnPeriodY: 100,
    });
    expect(notchStorm(settings({ depth_table: table, duration_h: 1 }), undefined).rainMm).toBe(70);
    // a longer storm than the table knows
    expect(notchStorm(settings({ depth_table: table, duration_h: 48 }), undefined).from).toBe(
      'event',
    );
  });

  it('else the plan’s own event, and never less than that', () => {
    expect(notchStorm(settings({}), undefined)).toMatchObject({ rainMm: 40, from: 'event' });
    expect(notchStorm(settings({}), 25)).toMatchObject({ rainMm: 40, from: 'event' });
    const heavy = settings({ depth_table: table, rain_mm: 150 });
    expect(notchStorm(heavy, undefined)).toMatchObject({ rainMm: 150, from: 'event' });
    const thaw: Settings = {
      ...settings({ depth_table: table }),
      event: 'thaw',
      thaw: { snow_water_mm: 60, days: [{ mean_c: 20 }], ground: 'frozen' },
    };
    expect(notchStorm(thaw, undefined).from).toBe('event');
    // enough only where somebody says so: it is asked for, or more than the table's rarest
    expect(notchStorm(settings({}), undefined).isEnough).toBe(false);
    expect(notchStorm(thaw, undefined).isEnough).toBe(false);
    expect(notchStorm(settings({}), 25).isEnough).toBe(true);
    expect(notchStorm(heavy, undefined).isEnough).toBe(true);
    const rain = notchStorm(thaw, 120);
    expect(rain.rainMm).toBe(120);
    expect(rain.settings.event).toBe('storm');
  });
});

describe('the flow that a notch has to pass', () => {
  /** An hour of hard rain half a day into the storm, when a basin that was full at first has long drained. */
  const late = inflow(360, [...new Array<number>(120).fill(0), ...new Array<number>(10).fill(1.8)]);
  const basin = onSoil(roundBowl(1.5, 3, 0.15, 0.3), 40, [layer(0.4, 0.45, 0.14, 100)]);
  const task = { id: 'basin', basin, inflow: late, overflowsTo: null };

  it('is that of a basin that stands full when the peak comes, whatever has soaked away before', () => {
    const [found] = notchFlows([task]);
    const drained = fillAndDrain(basin, late, { full: true, horizonH: 0 }).summary;
    expect(drained.peakOverflowM3PerS).toBeLessThan(0.95 * found.overflowM3PerS);
    // the room over the sill is soon filled: all that comes runs over
    expect(found.overflowM3PerS).toBeCloseTo(1.8 / 360, 5);
    expect(found.runOnM3PerS).toBeCloseTo(1.8 / 360, 12);
    const onRock = { ...task, basin: { ...basin, subsoil: null, layers: [] } };
    expect(notchFlows([onRock])).toEqual([found]);
  });

  it('has the overflow of the basin above in it, and rain on the basin, but not over the inlet', () => {
    const lower = { ...task, id: 'lower' };
    const upper = { ...task, overflowsTo: { id: 'lower', delayS: 0 } };
    const [above, below] = notchFlows([upper, lower]);
    expect(below.overflowM3PerS).toBeGreaterThan(1.9 * above.overflowM3PerS);
    const rained = { ...task, inflow: inflow(360, [1.8], [50]) };
    const [wet] = notchFlows([rained]);
    expect(wet.runOnM3PerS).toBeCloseTo(1.8 / 360, 12);
    const [dry] = notchFlows([{ ...task, inflow: inflow(360, [1.8]) }]);
    expect(wet.overflowM3PerS).toBeGreaterThan(dry.overflowM3PerS);
  });
});

describe('the rain of 24 h once in two years', () => {
  it('is the plan’s, else the table’s, else one figure whatever the event', () => {
    const given = settings({ rain_2y_mm: 72, depth_table: table });
    expect(twoYearRain(given)).toEqual({ rainMm: 72, from: 'plan', source: null });
    expect(twoYearRain(settings({ depth_table: table }))).toMatchObject({
      rainMm: 60,
      from: 'depth-table',
    });
    const usual = twoYearRain(settings({}));
    expect(usual).toMatchObject({ from: 'usual', source: { mark: 'seen' } });
    expect(usual.rainMm).toBeCloseTo(91.44, 9);
    expect(twoYearRain(settings({ rain_mm: 150 }))).toEqual(usual);
    const short = { ...table, durations_min: [30, 60] };
    expect(twoYearRain(settings({ depth_table: short }))).toEqual(usual);
  });
});
