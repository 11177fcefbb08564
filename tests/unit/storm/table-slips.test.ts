import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors';
import { tableDepth } from '../../../lib/storm/depth-table';
import { readRainRecord } from '../../../lib/storm/percentile-depth';
import { readDepthTable } from '../../../lib/storm/read-depth-table';
import { readMeasuredRain } from '../../../lib/storm/read-measured-rain';

/** Tables as people really paste them, and slips in them that must not pass for figures. */
function faultOf(read: () => unknown): InputError {
  try {
    read();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('it was read');
}

const grid = (text: string): unknown => {
  const { durations_min, return_periods_y, depths_mm } = readDepthTable(text, 't').table;
  return {
    durations_min,
    return_periods_y,
    depths_mm: depths_mm.map((row) => row.map((depth) => Number(depth.toFixed(6)))),
  };
};
const expected = {
  durations_min: [5, 60],
  return_periods_y: [2, 10],
  depths_mm: [
    [6, 9],
    [18, 27],
  ],
};

describe('a depth table as it is pasted', () => {
  it.each([
    [
      'an empty corner, copied from a spreadsheet',
      'Depths (mm)\n\t2-yr\t10-yr\n5 min\t6\t9\n1 h\t18\t27',
    ],
    ['commas at the ends of its lines', 'mm,2,10,,\n5 min,6,9,,\n60 min,18,27,,'],
    ['bare minutes across, years at the side', 'T (years) by minutes of mm,5,60\n2,6,18\n10,9,27'],
    ['bare minutes across, years spelt out', 'mm by minutes,5,60\n2-yr,6,18\n10-yr,9,27'],
    [
      'a title about intensity curves over depths',
      'Intensity-duration-frequency, depths in mm\nduration,2,10\n5 min,6,9\n60 min,18,27',
    ],
  ])('reads one with %s', (_, text) => {
    expect(grid(text)).toEqual(expected);
  });

  it('says when a table about intensities holds depths', () => {
    const text = 'Intensities (mm)\nduration,2,10\n5 min,6,9\n60 min,18,27';
    expect(readDepthTable(text, 't').notes.join()).toMatch(/taken for depths/);
    const real = 'Intensities (mm/h)\nduration,2,10\n5 min,72,108\n60 min,18,27';
    expect(readDepthTable(real, 't').notes.join()).toMatch(/turned into depths/);
  });

  it.each([
    [
      'depths in the wrong unit',
      'inches,2,10\n5 min,60,90\n60 min,180,270',
      'depth-table-number',
      /2286 mm of rain in 5 min, 2000 at most.*check the unit/,
    ],
    ['a duration of nothing', 'mm,2,10\n0 min,0,0\n60 min,18,27', 'depth-table-shape', /'0 min'/],
    ['a chance of nothing', 'mm,50%,0%\n5 min,6,9\n60 min,18,27', 'depth-table-shape', /'0%'/],
    [
      'intensities without the word',
      'mm,2,10\n5 min,72,108\n60 min,18,27',
      'depth-table-order',
      /write mm\/h or in\/h/,
    ],
    ['a heading and no rows', 'mm,2,10', 'depth-table-shape', /heading/],
    ['prose', 'It rained\nall day long', 'depth-table-shape', /heading/],
  ])('refuses one with %s', (_, text, code, words) => {
    const fault = faultOf(() => readDepthTable(text, 't'));
    expect(fault.code).toBe(code);
    expect(fault.message).toMatch(words);
    expect(fault.message).not.toMatch(/\.\./);
  });

  it.each([
    ['a row short', [5, 60], [[6, 9]]],
    ['a cell short', [5, 60], [[6, 9], [18]]],
    [
      'out of order',
      [60, 5],
      [
        [18, 27],
        [6, 9],
      ],
    ],
  ])('of a plan written by hand is refused when it is %s', (_, durations_min, depths_mm) => {
    const table = { durations_min, return_periods_y: [2, 10], depths_mm };
    expect(faultOf(() => tableDepth(table, 30, 5)).code).toBe('depth-table-shape');
  });
});

describe('a measured storm as it is pasted', () => {
  const depths = (text: string): readonly number[] =>
    readMeasuredRain(text, 'm').measured.depths_mm;

  it('goes on past midnight where there are times of day only', () => {
    const { measured, notes } = readMeasuredRain(
      'time,rain (mm)\n23:50,1\n23:55,3\n00:00,2\n00:05,1',
      'm',
    );
    expect(measured).toMatchObject({ step_min: 5, depths_mm: [1, 3, 2, 1] });
    expect(notes.join()).toMatch(/pass midnight/);
    expect(notes.join()).not.toMatch(/sorted/);
  });

  it('does not take shuffled times of day for a new day', () => {
    const { measured, notes } = readMeasuredRain(
      'time,rain (mm)\n10:00,1\n10:10,2\n10:05,3\n22:30,0',
      'm',
    );
    expect(measured.depths_mm).toEqual([1, 3, 2]);
    expect(notes.join()).toMatch(/sorted/);
  });

  it('looks past lines about the place, and columns with nothing in them', () => {
    expect(
      depths(
        'Latitude:,44.2\nGauge,7\ndate,rain (mm),\n2024-05-01 10:00,1,\n2024-05-01 10:05,3,\n2024-05-01 10:10,2,',
      ),
    ).toEqual([1, 3, 2]);
    expect(depths('minutes,mm,\n0,1,\n5,3,\n10,2,')).toEqual([1, 3, 2]);
  });

  it('does not read words into the names of gauges', () => {
    // Neither 'each' nor 'cum' stands in these; the depths rise, so the form stays open.
    for (const title of ['Long Beach rain (mm)', 'Cumberland rain (mm)']) {
      const fault = faultOf(() => readMeasuredRain(`minutes,${title}\n0,1\n5,2\n10,3`, 'm'));
      expect(fault.code).toBe('rain-form-open');
    }
    for (const title of ['rain_cum_mm', 'cumulative rain, mm', 'accumulated_mm']) {
      expect(depths(`minutes,"${title}"\n0,0\n5,2\n10,3`)).toEqual([2, 1]);
    }
  });

  it.each([
    ['minutes past 59', 'time,rain (mm)\n10:00,1\n10:75,3\n10:80,2', 'rain-time', /'10:75'/],
    ['nothing in it', '', 'table-empty', /nothing in it/],
    ['a heading alone', 'time,rain_mm', 'rain-no-columns', /no line/],
    [
      'a date too many',
      'time,rain (mm)\n2024-05-01 10:00,1\n2024-05-01 10:00,3',
      'rain-time-twice',
      /line 3: line 2 has the same time/,
    ],
  ])('is refused with %s', (_, text, code, words) => {
    const fault = faultOf(() => readMeasuredRain(text, 'm'));
    expect(fault.code).toBe(code);
    expect(fault.message).toMatch(words);
  });
});

describe('a long record as it is pasted', () => {
  it('is refused with a figure that stands for a missing day', () => {
    const fault = faultOf(() =>
      readRainRecord('date,rain (mm)\n2020-01-01,5\n2020-01-02,99999\n2020-01-03,1', 'days'),
    );
    expect(fault.code).toBe('record-too-much');
    expect(fault.message).toMatch(/days, line 3: 99999 mm in one reading/);
  });

  it('takes the marks that agencies write for a missing day', () => {
    for (const mark of ['-9999', '-999.0', 'M', 'NA', '']) {
      const { eventsMm, missingShare } = readRainRecord(
        `date,rain (mm)\n2020-01-01,5\n2020-01-02,${mark}\n2020-01-03,1`,
        'days',
      );
      expect([...eventsMm]).toEqual([5, 1]);
      expect(missingShare).toBeCloseTo(1 / 3, 9);
    }
  });

  it('is refused with a negative depth', () => {
    const fault = faultOf(() =>
      readRainRecord('date,rain (mm)\n2020-01-01,5\n2020-01-02,-4\n2020-01-03,1', 'days'),
    );
    expect(fault.message).toMatch(/days, line 3: '-4' is not a depth/);
  });
});
