import { describe, expect, it } from 'vitest';
import { readLog } from '../../../lib/handover/log/read-log';
import { rateOfRow, refitRate, type DryingTime } from '../../../lib/handover/log/refit-rate';

/** A made garden: all that rained stands and sinks at the rate. */
const sinks: DryingTime = ({ rainMm }, rateMPerS) =>
  rainMm < 2 ? 0 : rainMm / 1000 / rateMPerS / 3600;
const rateMPerS = 5e-6;
const look = (rainMm: number, share = 1) => ({
  rainMm,
  rainH: null,
  dryH: sinks({ rainMm, rainH: null }, rateMPerS) * share,
  stillWet: false,
});

describe('the rate that a garden shows', () => {
  it('is the one by which a made series dried', () => {
    const rows = [20, 35, 50].map((rainMm) => rateOfRow(look(rainMm), sinks));
    for (const row of rows) expect(row.rateMPerS).toBeCloseTo(rateMPerS, 11);
    const fit = refitRate(rows);
    expect(fit?.rateMPerS).toBeCloseTo(rateMPerS, 11);
    expect(fit?.between[1]).toBeCloseTo(rateMPerS, 10);
  });

  it('lies between ends that hold it, and that close in with more looks', () => {
    const shares = [0.8, 1.25, 0.9, 1.1, 1.05, 0.95];
    const rows = shares.map((share) => rateOfRow(look(30, share), sinks));
    const [few, many] = [refitRate(rows.slice(0, 2)), refitRate(rows)];
    for (const fit of [few, many]) {
      expect(fit?.between[0]).toBeLessThan(rateMPerS);
      expect(fit?.between[1]).toBeGreaterThan(rateMPerS);
    }
    const width = ([low, high]: readonly [number, number]): number => high / low;
    expect(width(many?.between ?? [1, 9])).toBeLessThan(width(few?.between ?? [1, 9]));
    // by hand: logarithms of 0.8 and 1.25 are 0.2231 to either side; t is 6.314 with one degree of freedom
    expect(Math.log((few?.between[1] ?? 0) / rateMPerS)).toBeCloseTo(6.314 * 0.22314, 4);
  });

  it('is open by a factor of two after one look, and unknown after none', () => {
    const fit = refitRate([rateOfRow(look(30), sinks)]);
    expect((fit?.between[1] ?? 0) / (fit?.between[0] ?? 1)).toBeCloseTo(4, 9);
    expect(refitRate([])).toBeNull();
  });

  it('is told by no look that tells nothing, and only bounded while it is wet', () => {
    expect(rateOfRow(look(1), sinks).why).toMatch(/leaves no water/);
    expect(rateOfRow({ ...look(30), dryH: 0 }, sinks).why).toMatch(/dry when the rain ended/);
    expect(rateOfRow({ ...look(30), dryH: 1e-3 }, sinks).why).toMatch(/no soil dries it so fast/);
    const wet = rateOfRow({ ...look(30), stillWet: true }, sinks);
    expect(wet).toMatchObject({ isMost: true });
    expect(refitRate([wet])).toBeNull();
  });
});

describe('a log', () => {
  const read = (...lines: readonly string[]) =>
    readLog(['date,rain,hours until dry,note', ...lines].join('\n'), 'log.csv');

  it('is read with its units', () => {
    expect(read('2027-06-03,25 mm,18,photo 1', '2027-06-20,2.54 cm,>48')).toMatchObject([
      { day: '2027-06-03', rainMm: 25, dryH: 18, stillWet: false, note: 'photo 1' },
      { day: '2027-06-20', dryH: 48, stillWet: true },
    ]);
    const table = 'Date;Rain mm;Hours;Rain hours\n3.6.2027;12,5;6;2';
    expect(readLog(table, 'log.csv', 'day-first')).toMatchObject([
      { day: '2027-06-03', rainMm: 12.5, rainH: 2 },
    ]);
  });

  it('is refused in one sentence with its line', () => {
    expect(() => readLog('when,wet\n1,2', 'log.csv')).toThrow(
      /^log\.csv, line 1: a log of checks has no column 'date', 'hours until dry'/,
    );
    expect(() => read('3/6/2027,25 mm,18')).toThrow(
      /^log\.csv, line 2: '3\/6\/2027' may be Thu 3 Jun 2027 or Sat 6 Mar 2027; write which/,
    );
    expect(() => read('2027-06-03,25,18')).toThrow(/^log\.csv, line 2: /);
    expect(() => read('2027-06-03,,18')).toThrow(/does not say how much it rained/);
    expect(() => read('2027-06-03,0 mm,18')).toThrow(/fills no garden/);
    expect(() => read('2027-06-03,25 mm,a day')).toThrow(/'a day' is no number of hours/);
  });
});
