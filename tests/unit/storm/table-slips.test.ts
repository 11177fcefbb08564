import { describe, expect, it } from 'vitest';
import { recordedRain } from '../../../lib/basin/filling/recorded-rain';
import { tableDepth } from '../../../lib/storm/depth-table';
import { readRainRecord } from '../../../lib/storm/percentile-depth';
import { readDepthTable } from '../../../lib/storm/read-depth-table';
import { readMeasuredRain } from '../../../lib/storm/read-measured-rain';
import { faultOf } from './fault-of';

/** Tables as people really paste them, and slips in them that must not pass for figures. */
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

  it('keeps the repeated hour of a storm in the night of a clock change', () => {
    const rows = ['00:30,1', '01:00,2', '01:30,3', '01:00,4', '01:30,5', '02:00,6'];
    const { measured, notes } = readMeasuredRain(
      `time,rain (mm)\n${rows.map((row) => `2024-11-03 ${row}`).join('\n')}`,
      'm',
      { depths: 'each-step' },
    );
    expect(measured).toMatchObject({ step_min: 30, depths_mm: [1, 2, 3, 4, 5, 6] });
    expect(notes.join()).toMatch(/set back once/);
    expect(notes.join()).not.toMatch(/sorted/);
    const zones = ['EDT', 'EDT', 'EDT', 'EST', 'EST', 'EST'];
    const zoned = rows.map((row, i) => `2024-11-03 ${row},${zones[i]}`).join('\n');
    expect(
      readMeasuredRain(`time,rain (mm),clock\n${zoned}`, 'm', { depths: 'each-step' }).measured,
    ).toEqual(measured);
  });

  it('reads decimal commas in quotes between commas, but no parted thousands', () => {
    expect(depths('minutes,rain (mm)\n0,"1,5"\n5,"3,0"\n10,2')).toEqual([1.5, 3, 2]);
    const fault = faultOf(() => readMeasuredRain('minutes,rain (mm)\n0,"1,500"\n5,3\n10,2', 'm'));
    expect(fault.message).toMatch(/none of its columns holds depths/);
  });

  it.each([
    [
      'decimal commas between commas',
      'time,rain (mm)\n2024-05-01 10:00,1,4\n2024-05-01 10:05,3,2',
      'rain-row-long',
      /m, line 2: it has 3 cells, and there are 2 columns; .*quotes/,
    ],
    [
      'decimal commas in some lines',
      'minutes,rain (mm)\n0,1\n5,3\n10,2,5\n15,1',
      'rain-row-long',
      /m, line 4: it has 3 cells/,
    ],
    [
      'decimal commas and no heading',
      '2024-05-01 10:00,1,4\n2024-05-01 10:05,3,2',
      'rain-decimal-comma',
      /line 1: '1,4' may be one number/,
    ],
    [
      'decimal commas under a heading cut before its unit',
      'time,rain, mm\n10:00,1,4\n10:05,3,2',
      'rain-decimal-comma',
      /line 2: '1,4' may be one number/,
    ],
    [
      'more cells than headings between semicolons',
      'minutes;rain (mm)\n0;1\n5;3;7\n10;2',
      'rain-row-long',
      /m, line 3: it has 3 cells/,
    ],
    [
      'more in an hour than ever fell anywhere',
      'minutes,rain (mm)\n0,1\n15,120\n30,150\n45,80\n60,3',
      'rain-too-much',
      /m: 351 mm in 1 h is more than the 305 mm that were ever measured \(World Weather/,
    ],
    [
      'more in ten minutes than ever fell',
      'minutes,rain (mm)\n0,1\n5,90\n10,95\n15,1\n20,3',
      'rain-too-much',
      /m: 185 mm in 10 min is more than the 183 mm/,
    ],
    [
      'more in six hours than ever fell',
      `hours,rain (mm)\n${[200, 200, 200, 200, 200, 1].map((mm, h) => `${h},${mm}`).join('\n')}`,
      'rain-too-much',
      /m: \d+ mm in \d+ h is more than the \d+ mm/,
    ],
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

describe('a depth table', () => {
  it('is refused where it has more than ever fell in a time', () => {
    const fault = faultOf(() => readDepthTable('mm,2-yr,100-yr\n15-min,20,40\n2-hr,40,800', 't'));
    expect(fault.code).toBe('rain-too-much');
    expect(fault.message).toMatch(/t: 800 mm in 2 h is more than the 589 mm/);
  });
});

describe('a long record as it is pasted', () => {
  it('is refused with a figure that stands for a missing day', () => {
    const fault = faultOf(() =>
      readRainRecord('date,rain (mm)\n2020-01-01,5\n2020-01-02,99999\n2020-02-03,1', 'days'),
    );
    expect(fault.code).toBe('rain-too-much');
    expect(fault.message).toMatch(/days, line 3: 99999 mm in 24 h is more than the 1825 mm/);
  });

  it('takes the marks that agencies write for a missing day', () => {
    for (const mark of ['-9999', '-999.0', 'M', 'NA', '']) {
      const { eventsMm, missingShare } = readRainRecord(
        `date,rain (mm)\n2020-01-01,5\n2020-01-02,${mark}\n2020-01-30,1`,
        'days',
      );
      expect([...eventsMm]).toEqual([5, 1]);
      expect(missingShare).toBeCloseTo(28 / 30, 9);
    }
  });

  it('keeps both hours of the same name where clocks are set back, and lets autumn and spring meet', () => {
    const hour = (day: string, h: number): string => `${day} ${String(h).padStart(2, '0')}:00,1`;
    const hoursOf = (day: string, hours: readonly number[]): string[] =>
      hours.map((h) => hour(day, h));
    const all = Array.from({ length: 24 }, (_, h) => h);
    const rows = [
      ...hoursOf('2024-11-02', all),
      ...hoursOf('2024-11-03', [0, 1, ...all.slice(1)]),
      ...hoursOf('2024-11-04', all),
      ...hoursOf('2025-03-08', all),
      ...hoursOf('2025-03-09', [0, 1, ...all.slice(3)]),
      ...hoursOf('2025-03-10', all),
    ];
    const { record, notes } = recordedRain(`time,rain_mm\n${rows.join('\n')}\n`, 'hours');
    expect(record.depthsMm.filter((depth) => depth === 1)).toHaveLength(rows.length);
    expect(record.depthsMm.slice(0, 73).every((depth) => depth === 1)).toBe(true);
    expect(notes.join()).toMatch(/set back once: both hours/);
    // The hour that spring leaves out is no missing reading.
    expect(record.depthsMm.slice(-71).every((depth) => depth === 1)).toBe(true);
    expect(record.depthsMm).toHaveLength((4 * 30 + 9) * 24);
  });

  it('does not take a line that was written twice for a clock set back', () => {
    const days = ['2024-11-03', '2024-11-03', '2024-12-24'];
    const daily = days.map((day) => `${day},1`).join('\n');
    expect(faultOf(() => recordedRain(`date,rain_mm\n${daily}`, 'd')).code).toBe('rain-time-twice');
    for (const night of ['2024-11-04 01', '2024-11-03 13']) {
      const rows = ['00', '30', '30'].map((minute) => `${night}:${minute},1`).join('\n');
      const text = `time,rain_mm\n${rows}\n2024-12-24 00:00,1`;
      expect(faultOf(() => recordedRain(text, 'h')).code).toBe('rain-time-twice');
    }
  });

  it('is refused with a negative depth', () => {
    const fault = faultOf(() =>
      readRainRecord('date,rain (mm)\n2020-01-01,5\n2020-01-02,-4\n2020-01-03,1', 'days'),
    );
    expect(fault.message).toMatch(/days, line 3: '-4' is not a depth/);
  });
});
