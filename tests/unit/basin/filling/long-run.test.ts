import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fillAndDrain } from '../../../../lib/basin/filling/fill-and-drain';
import {
  longRun,
  type LongRunPart,
  type RecordedRain,
} from '../../../../lib/basin/filling/long-run';
import { runOffMm } from '../../../../lib/storm/run-off';
import { inchM } from '../../../../lib/units/units';
import { inflow, layer, mmPerH, onSoil, roundBowl } from '../made-basins';

const bowl = roundBowl(1.2, 3, 0.15, 0.2);
const rimM2 = Math.PI * 1.8 ** 2;
const basin = onSoil(bowl, 10, [layer(0.3, 0.45, 0.14, 30)]);
const parts = [partOf(60, 98), partOf(80, 74)];

function partOf(areaM2: number, curveNumber: number): LongRunPart {
  return { areaM2, runOffMm: (rainMm) => runOffMm(rainMm, curveNumber), barrelM3: 0 };
}

/** An hourly record with rain at given hours. */
function hourly(hours: number, falls: Readonly<Record<number, number>>): RecordedRain {
  const depthsMm = new Float64Array(hours);
  for (const [at, mm] of Object.entries(falls)) depthsMm[Number(at)] = mm;
  return { stepS: 3600, depthsMm, start: '2019-12-20T00:00' };
}

describe('a long record of rain', () => {
  it('one storm in it comes to what it comes to alone', () => {
    const falls = { 100: 10, 101: 30, 102: 15 };
    const { all } = longRun(basin, parts, hourly(24 * 30, falls));
    let fallen = 0;
    let before = 0;
    const runOn = Object.values(falls).map((mm) => {
      fallen += mm;
      const ran = parts.reduce(
        (sum, part) => sum + (part.areaM2 * part.runOffMm(fallen)) / 1000,
        0,
      );
      const came = ran - before;
      before = ran;
      return came;
    });
    const alone = fillAndDrain(basin, inflow(3600, runOn, Object.values(falls))).summary;
    expect(all.inflowM3).toBeCloseTo(alone.inflowM3, 9);
    expect(all.overflowM3).toBeGreaterThan(0.5);
    expect(all.overflowM3 / alone.overflowM3).toBeCloseTo(1, 1);
    expect(all.longestWetH * 3600).toBeGreaterThan(alone.longestWetS * 0.93);
    expect(all.longestWetH * 3600).toBeLessThan(alone.longestWetS * 1.07);
    expect([all.storms, all.overflows]).toEqual([1, 1]);
  });

  it('never takes back what has run off, should a surface give less of more rain', () => {
    const dips: LongRunPart = { areaM2: 100, runOffMm: (mm) => Math.min(mm, 40 - mm), barrelM3: 0 };
    const { all, errorM3 } = longRun(basin, [dips], hourly(48, { 10: 15, 11: 10, 12: 10 }));
    expect(all.inflowM3).toBeCloseTo((100 * 15) / 1000 + 0.035 * rimM2, 9);
    expect(Math.abs(errorM3)).toBeLessThan(1e-9);
  });

  it('counts storms apart after a dry spell, and each starts its run-off anew', () => {
    const together = longRun(basin, parts, hourly(500, { 10: 20, 15: 20 })).all;
    const apart = longRun(basin, parts, hourly(500, { 10: 20, 200: 20 })).all;
    expect([together.storms, apart.storms]).toEqual([1, 2]);
    expect(apart.inflowM3).toBeLessThan(together.inflowM3);
  });

  it('by calendar year, which add up to all', () => {
    const run = longRun(basin, parts, hourly(24 * 40, { 50: 25, 400: 40, 700: 12 }));
    expect(run.years.map(({ year }) => year)).toEqual([2019, 2020]);
    for (const key of ['rainMm', 'inflowM3', 'overflowM3', 'soakedM3', 'storms', 'wetH'] as const) {
      expect(run.years[0][key] + run.years[1][key]).toBeCloseTo(run.all[key], 9);
    }
    expect(run.all.days).toBeCloseTo(40, 9);
    expect(Math.abs(run.errorM3)).toBeLessThan(1e-10 * run.all.inflowM3);
  });

  it('keeps the longest wet spell, whatever comes after it', () => {
    const alone = longRun(basin, parts, hourly(700, { 400: 40 })).all.longestWetH;
    const both = longRun(basin, parts, hourly(1200, { 400: 40, 800: 20 })).all;
    expect(alone).toBeGreaterThan(5);
    expect(both.longestWetH).toBe(alone);
    expect(both.wetH).toBeGreaterThan(alone);
  });

  it('after days without water the soil draws like the first time', () => {
    const thirsty = {
      ...onSoil(bowl, null),
      subsoil: { conductivityMPerS: 2 * mmPerH, suctionM: 0.2, deficit: 0.3 },
    };
    const once = longRun(thirsty, parts, hourly(700, { 10: 14 })).all;
    const twice = longRun(thirsty, parts, hourly(1400, { 10: 14, 710: 14 })).all;
    expect(twice.wetH / once.wetH).toBeCloseTo(2, 2);
    expect(twice.overflowM3).toBeCloseTo(2 * once.overflowM3, 6);
    // soon after it is still wet, and slower
    const soon = longRun(thirsty, parts, hourly(1400, { 10: 14, 60: 14 })).all;
    expect(soon.wetH).toBeGreaterThan(1.05 * twice.wetH);
  });

  it('without rain: nothing', () => {
    const { all, errorM3 } = longRun(basin, parts, hourly(1000, {}));
    expect(all).toMatchObject({ inflowM3: 0, overflowM3: 0, capturedShare: 1, storms: 0, wetH: 0 });
    expect(errorM3).toBeCloseTo(0, 12);
  });

  it('drying makes room for the next storm, and its water is counted', () => {
    const record = hourly(24 * 60, { 10: 40, 720: 45 });
    const moist = longRun(basin, parts, record);
    const dried = longRun(basin, parts, record, { dryMmPerDay: 3 });
    expect(dried.all.driedM3).toBeGreaterThan(0.2);
    expect(dried.all.driedM3).toBeLessThanOrEqual((60 * 3 * rimM2) / 1000);
    expect(dried.all.overflowM3).toBeLessThan(moist.all.overflowM3);
    expect(Math.abs(dried.errorM3)).toBeLessThan(1e-10 * dried.all.inflowM3);
    expect(moist.notes.join()).toContain('on the careful side');
    const months = Array.from({ length: 12 }, () => 3);
    expect(longRun(basin, parts, record, { dryMmPerDay: months }).all).toEqual(dried.all);
  });

  it('of daily rain each day is a storm of its own', () => {
    const daily = (depths: readonly number[]): RecordedRain => ({
      stepS: 86_400,
      depthsMm: Float64Array.from(depths),
      start: '2021-03-01',
    });
    const { all } = longRun(basin, parts, daily([20, 20, 20]));
    const oneDay = longRun(basin, parts, daily([20])).all;
    expect(all.storms).toBe(3);
    expect(all.inflowM3).toBeCloseTo(3 * oneDay.inflowM3, 9);
  });

  it('gaps count as dry and are told; days are told to be too even', () => {
    const depthsMm = Float64Array.of(5, NaN, 0, NaN, 20, 0, 0);
    const run = longRun(basin, parts, { stepS: 86_400, depthsMm, start: '2021-03-01' });
    expect(run.all.missingDays).toBe(2);
    expect(run.all.rainMm).toBe(25);
    expect(run.notes.join(' ')).toMatch(/steps of 24 h.*missing on 2\.0 days/);
  });

  it('low spots and barrels hold back the beginning of each storm', () => {
    // no more in a storm of several hours than in one
    const record = hourly(500, { 10: 20, 11: 20, 200: 30 });
    const free = longRun(basin, parts, record).all.inflowM3;
    const held = longRun(basin, parts, record, { heldBackM3: 0.2 }).all.inflowM3;
    expect(free - held).toBeCloseTo(0.4, 9);
    const barrels = [{ ...parts[0], barrelM3: 0.3 }, parts[1]];
    expect(free - longRun(basin, barrels, record).all.inflowM3).toBeCloseTo(0.6, 9);
  });

  const data = process.env.LOTFALL_DATA;
  it.skipIf(data === undefined)(
    'a measured year by the hour (left out without LOTFALL_DATA): balance kept, most of it captured',
    () => {
      const file = join(data ?? '', 'rain/nyc_hourly_2013_ewr_jfk_lga.csv');
      const depthsMm = new Float64Array(8760);
      const from = Date.UTC(2013, 0, 1);
      for (const line of readFileSync(file, 'utf8').split('\n')) {
        const cells = line.split(',');
        if (cells[0] !== 'EWR') continue;
        const at = Math.round((Date.parse(cells[14]) - from) / 3.6e6);
        if (at >= 0 && at < 8760) depthsMm[at] = (Number(cells[11]) * inchM) / 0.001;
      }
      const run = longRun(basin, parts, { stepS: 3600, depthsMm, start: '2013-01-01T00:00' });
      expect(run.all.rainMm).toBeGreaterThan(1100);
      expect(run.all.capturedShare).toBeGreaterThan(0.7);
      expect(run.all.capturedShare).toBeLessThan(1);
      expect(Math.abs(run.errorM3)).toBeLessThan(1e-10 * run.all.inflowM3);
    },
  );
});
