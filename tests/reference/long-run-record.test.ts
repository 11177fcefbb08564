/**
 * The long run on a measured record of four years by the day: Seattle, 2012 to 2015, precipitation in millimetres.
 *
 * Source: daily observations of the National Oceanic and Atmospheric Administration, works of the United States government
 * and so in the public domain there; as handed out in `data/seattle-weather.csv` of the package vega-datasets (BSD-3-Clause), whose
 * list of sources names that agency.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { longRun, type LongRun, type LongRunPart } from '../../lib/basin/filling/long-run';
import { runOffMm } from '../../lib/storm/run-off';
import { recordedRain } from '../../lib/basin/filling/recorded-rain';
import { layer, mmPerH, onSoil, roundBowl } from '../unit/basin/made-basins';

const file = new URL('../../node_modules/vega-datasets/data/seattle-weather.csv', import.meta.url);
const isThere = existsSync(file);
const title = `the long run on four measured years${
  isThere ? '' : ' (left out: vega-datasets is not installed; run npm ci)'
}`;

/** Year totals as anybody's spreadsheet adds them up, millimetres. */
const totals = { 2012: 1226.0, 2013: 828.0, 2014: 1232.8, 2015: 1139.2 };
const dayS = 86_400;

/** A straight-walled basin on soil of a steady rate, so that a day can be worked out by hand. */
const radiusM = 2;
const areaM2 = Math.PI * radiusM ** 2;
const sillM = 0.15;
const rateMmPerH = 2;
const tub = {
  ...onSoil(roundBowl(radiusM, 0, sillM, 0.5), rateMmPerH),
  // wide, so that what is over the sill leaves at once
  notch: { coefficient: 1.5, widthM: 20 },
};
const curveNumber = 98;
const roof: LongRunPart = {
  areaM2: 120,
  runOffMm: (rainMm) => runOffMm(rainMm, curveNumber),
  barrelM3: 0,
};

interface Bucket {
  inflowM3: number;
  overflowM3: number;
  soakedM3: number;
}

/** Day by day: what comes, evenly over the day; what soaks at the soil's rate while there is any; what is over the sill. */
function bucket(days: readonly { year: number; rainMm: number }[]): Map<number, Bucket> {
  const years = new Map<number, Bucket>();
  const retentionMm = 25_400 / curveNumber - 254;
  let standsM = 0;
  for (const { year, rainMm } of days) {
    const ranMm =
      rainMm > 0.2 * retentionMm
        ? (rainMm - 0.2 * retentionMm) ** 2 / (rainMm + 0.8 * retentionMm)
        : 0;
    const comesM3 = (roof.areaM2 * ranMm + areaM2 * rainMm) / 1000;
    const comesM = comesM3 / areaM2;
    const couldSoakM = rateMmPerH * 24e-3;
    const soaksM = Math.min(couldSoakM, standsM + comesM);
    const leftM = standsM + comesM - soaksM;
    const overM = Math.max(0, leftM - sillM);
    standsM = leftM - overM;
    const sums = years.get(year) ?? { inflowM3: 0, overflowM3: 0, soakedM3: 0 };
    sums.inflowM3 += comesM3;
    sums.overflowM3 += overM * areaM2;
    sums.soakedM3 += soaksM * areaM2;
    years.set(year, sums);
  }
  return years;
}

describe.skipIf(!isThere)(title, () => {
  const text = isThere ? readFileSync(file, 'utf8') : '';
  const { record } = isThere
    ? recordedRain(text, 'seattle-weather.csv', { depthUnit: 'mm' })
    : { record: { stepS: dayS, depthsMm: new Float64Array(), start: '2012-01-01' } };
  const run: LongRun = longRun(tub, [roof], record);

  it('asks for the unit, which the file does not say, and has every day of the four years', () => {
    expect(() => recordedRain(text, 'seattle-weather.csv')).toThrow(/seattle-weather\.csv.*unit/);
    expect(record.stepS).toBe(dayS);
    expect(record.depthsMm).toHaveLength(366 + 3 * 365);
    expect(run.all).toMatchObject({ days: 1461, missingDays: 0 });
  });

  it('adds up to the totals of the years', () => {
    expect(run.years.map(({ year }) => year)).toEqual([2012, 2013, 2014, 2015]);
    for (const { year, rainMm } of run.years) {
      expect(rainMm, String(year)).toBeCloseTo(totals[year as keyof typeof totals], 6);
    }
  });

  it('loses nothing, in a tub as in a bowl with layers that dry', () => {
    const bowl = onSoil(roundBowl(1.5, 3, 0.15, 0.2), 5, [layer(0.3, 0.45, 0.14, 30)]);
    for (const { all, errorM3 } of [
      run,
      longRun(bowl, [roof], record, { dryMmPerDay: 2 }),
      longRun({ ...bowl, underdrain: { diameter_m: 0.05 } }, [roof], record),
    ]) {
      expect(Math.abs(errorM3)).toBeLessThan(1e-10 * all.inflowM3);
      expect(all.inflowM3).toBeGreaterThan(100);
    }
  });

  it('comes to what a bucket comes to, day by day', () => {
    const lines = text.trim().split('\n').slice(1);
    const days = lines.map((line) => {
      const [date, rain] = line.split(',');
      return { year: Number(date.slice(0, 4)), rainMm: Number(rain) };
    });
    const byHand = bucket(days);
    expect(run.years).toHaveLength(byHand.size);
    for (const found of run.years) {
      const year = byHand.get(found.year ?? 0) ?? { inflowM3: 0, overflowM3: 0, soakedM3: 0 };
      expect(found.inflowM3, String(found.year)).toBeCloseTo(year.inflowM3, 6);
      // steps of a quarter of an hour, and a sill that needs some head
      const few = 5e-4 * year.inflowM3;
      expect(Math.abs(found.overflowM3 - year.overflowM3), String(found.year)).toBeLessThan(few);
      expect(Math.abs(found.soakedM3 - year.soakedM3), String(found.year)).toBeLessThan(few);
    }
    // the rate and the sill both matter in this record
    expect(run.all.capturedShare).toBeGreaterThan(0.5);
    expect(run.all.capturedShare).toBeLessThan(0.95);
    const soakedAtMostM3 = rateMmPerH * mmPerH * areaM2 * 1461 * dayS;
    expect(run.all.soakedM3).toBeLessThan(soakedAtMostM3);
  });
});
