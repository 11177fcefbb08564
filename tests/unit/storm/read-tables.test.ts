import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  percentileDepth,
  readRainRecord,
  type RainRecord,
} from '../../../lib/storm/percentile-depth';
import { readDepthTable } from '../../../lib/storm/read-depth-table';
import { readMeasuredRain } from '../../../lib/storm/read-measured-rain';
import { TableQuestion, type TableAnswers } from '../../../lib/storm/table-question';
import { faultOf } from './fault-of';

/** What reading asks, and the answers that it offers. */
function askedBy(read: () => unknown): readonly [string, readonly string[]] {
  const fault = faultOf(read);
  if (!(fault instanceof TableQuestion)) throw fault;
  return [fault.asks, fault.choices.map(({ value }) => value)];
}

const data = process.env.LOTFALL_DATA;
const there = data !== undefined && existsSync(join(data, 'rain'));
const real = (title: string): string =>
  there ? title : `${title}: left out, LOTFALL_DATA does not name the folder with the samples`;
const realText = (file: string): string => readFileSync(join(data ?? '', 'rain', file), 'utf8');

/** Laid out as the US precipitation frequency atlas hands its tables out; the place and the figures are made up. */
const publicForm = `Point precipitation frequency estimates (inches)
Precipitation Atlas Volume 99 Version 1
Data type: Precipitation depth
Location name (in the far hills): None
Latitude: 44.2 Degree
Longitude: -93.5 Degree

PRECIPITATION FREQUENCY ESTIMATES
by duration for ARI (years):, 1,2,10
5-min:, 0.40,0.50,0.80
60-min:, 1.10,1.40,2.20
2-hr:, 1.40,1.70,2.80
24-hr:, 2.40,2.90,4.60
2-day:, 2.90,3.30,5.00

Date/time (GMT):  Sun Jun  7 07:54:20 2026
`;

describe('reading a table of depths', () => {
  it('takes the public form as it comes', () => {
    const { table, notes } = readDepthTable(publicForm, 'table.csv');
    expect(table.durations_min).toEqual([5, 60, 120, 1440, 2880]);
    expect(table.return_periods_y).toEqual([1, 2, 10]);
    expect(table.depths_mm[0][2]).toBeCloseTo(0.8 * 25.4, 9);
    expect(table.source).toMatch(/Volume 99.*44\.2/);
    expect(notes).toEqual([]);
  });

  it.each([
    ['tabs and a unit in the corner', 'duration (mm)\t2-yr\t10-yr\n5 min\t6\t9\n1 h\t18\t27'],
    ['blanks and decimal commas', 'mm 2 10\n5-min 6,0 9,0\n60-min 18,0 27,0'],
    ['semicolons and decimal commas', 'mm;T=2;T=10\n5 min;6,0;9,0\n1 h;18,0;27,0'],
    ['periods down the side', 'depth_mm,5-min,1-hr\n2-yr,6,18\n10-yr,9,27'],
    ['rows and columns in any order', 'mm,10,2\n60 min,27,18\n5 min,9,6'],
    ['bare minutes under their name', 'minutes (depth in mm),2,10\n5,6,9\n60,18,27'],
    ['yearly chances', 'mm,50%,1/10\n5 min,6,9\n60 min,18,27'],
    ['intensities', 'Rainfall intensity (mm/h),2,10\n5 min,72,108\n60 min,18,27'],
  ])('reads one with %s', (_, text) => {
    const { table } = readDepthTable(text, 'pasted');
    expect(table.durations_min).toEqual([5, 60]);
    expect(table.return_periods_y).toEqual([2, 10]);
    expect(table.depths_mm.map((row) => row.map((depth) => Number(depth.toFixed(6))))).toEqual([
      [6, 9],
      [18, 27],
    ]);
  });

  it('asks for the unit rather than take the word in for inches', () => {
    const text = 'Depths of rain in the valley\nduration,2,10\n5 min,3,5\n60 min,8,11';
    expect(askedBy(() => readDepthTable(text, 't'))).toEqual(['depthUnit', ['mm', 'in', 'cm']]);
    expect(readDepthTable(text, 't', { depthUnit: 'in' }).table.depths_mm[0][0]).toBeCloseTo(76.2);
  });

  it('asks for the unit of bare durations', () => {
    const text = 'mm,2,10\n5,6,9\n60,18,27';
    expect(askedBy(() => readDepthTable(text, 't'))).toEqual(['timeUnit', ['min', 'h']]);
    expect(readDepthTable(text, 't', { timeUnit: 'h' }).table.durations_min).toEqual([300, 3600]);
  });

  it.each([
    ['empty', '\n \n', 'table-empty', /nothing in it/],
    ['without a heading', '5 min,6,9\n60 min,18,27', 'depth-table-shape', /heading/],
    [
      'less rain in longer time',
      'mm,2,10\n5 min,6,9\n60 min,18,8',
      'depth-table-order',
      /for 10 years it has less rain in 1 h than in 5 min/,
    ],
    [
      'less rain in rarer storms',
      'mm,2,10\n5 min,6,5\n60 min,18,27',
      'depth-table-order',
      /for 5 min it has less rain in 10 years than in 2/,
    ],
    [
      'a negative depth',
      'mm,2,10\n5 min,6,-9\n60 min,18,27',
      'depth-table-number',
      /t, line 2: '-9'/,
    ],
    [
      'a word for a depth',
      'mm,2,10\n5 min,6,x\n60 min,18,27',
      'depth-table-number',
      /t, line 2: 'x'/,
    ],
    ['a cell short', 'mm,2,10\n5 min,6\n60 min,18,27', 'depth-table-shape', /./],
    ['the same row twice', 'mm,2,10\n5 min,6,9\n5 min,7,9', 'depth-table-order', /two rows/],
    ['bytes of another kind', 'PK\0\0', 'table-not-text', /not text/],
  ])('refuses one that is %s or has it', (_, text, code, words) => {
    const fault = faultOf(() => readDepthTable(text, 't'));
    expect(fault.code).toBe(code);
    expect(fault.message).toMatch(words);
  });

  it.skipIf(!there)(real('reads a captured public table'), () => {
    const text = realText('atlas14_26.6N_81.9W_pds_depth_inches.csv');
    const { table } = readDepthTable(text, 'atlas');
    expect([table.durations_min.length, table.return_periods_y.length]).toEqual([19, 10]);
    expect(table.depths_mm[0][0]).toBeCloseTo(0.553 * 25.4, 9);
    expect(table.depths_mm[18][9]).toBeCloseTo(41.5 * 25.4, 9);
  });
});

describe('reading a measured storm', () => {
  const depths = (text: string, answers: TableAnswers = {}): readonly number[] =>
    readMeasuredRain(text, 'm', answers).measured.depths_mm.map((each) => Number(each.toFixed(6)));

  it.each<[string, string, TableAnswers]>([
    [
      'dates and times',
      'time,rain_mm\n2024-05-01 10:00,1\n2024-05-01 10:05,3\n2024-05-01 10:10,2',
      {},
    ],
    [
      'an offset',
      'time,rain_mm\n2024-05-01T10:00Z,1\n2024-05-01T12:05+02:00,3\n2024-05-01T10:10Z,2',
      {},
    ],
    [
      'a day and a time of day',
      'date,time,rain (mm)\n2024-05-01,10:00,1\n2024-05-01,10:05,3\n2024-05-01,10:10,2',
      {},
    ],
    ['minutes', 'minutes,rain (mm)\n0,1\n5,3\n10,2', {}],
    ['hours', 'hours;rain (cm)\n0;0,1\n0,5;0,3\n1;0,2', {}],
    ['afternoons', 'time,mm\n5/13/2024 11:55 AM,1\n5/13/2024 12:00 PM,3\n5/13/2024 12:05 PM,2', {}],
    ['no heading', '0 1\n5 3\n10 2', { timeUnit: 'min', depthUnit: 'mm' }],
    ['rates', 'minutes,rain (mm/h)\n0,12\n5,36\n10,24', {}],
    ['a running total', 'minutes,cumulative (mm)\n0,0\n5,1\n10,4\n15,6', {}],
    ['a running total from its first step on', 'minutes,cumulative (mm)\n5,1\n10,4\n15,6', {}],
    [
      'a gauge that was not empty',
      'minutes,cumulative (mm)\n0,134.2\n5,135.2\n10,138.2\n15,140.2',
      {},
    ],
    ['tenths of a millimetre', 'minutes,rain\n0,10\n5,30\n10,20', { depthUnit: 'tenth-mm' }],
    [
      'quotes and a byte order mark',
      '\uFEFF"minutes","rain (mm)"\n"0","1"\n"5","3"\n"10","2"\n',
      {},
    ],
  ])('takes %s', (_, text, answers) => {
    expect(depths(text, answers)).toEqual([1, 3, 2]);
  });

  it('sorts shuffled lines, counts gaps as dry, and says both', () => {
    const { measured, notes } = readMeasuredRain(
      'minutes,rain (mm)\n0,1\n10,2\n5,NA\n20,4\n25,1',
      'm',
    );
    expect(measured).toMatchObject({ step_min: 5, depths_mm: [1, 0, 2, 0, 4, 1] });
    expect(notes.join(' ')).toMatch(/sorted/);
    expect(notes.join(' ')).toMatch(/2 of its 6 steps have no reading/);
  });

  it('leaves dry time before and after out, and says so', () => {
    const { measured, notes } = readMeasuredRain('minutes,rain (mm)\n0,0\n5,3\n10,2\n15,0', 'm');
    expect(measured.depths_mm).toEqual([3, 2]);
    expect(notes.join()).toMatch(/Dry time/);
  });

  it('bridges missing readings of a total', () => {
    expect(depths('minutes,cumulative (mm)\n0,0\n5,1\n10,\n15,5')).toEqual([1, 2, 2]);
  });

  it.each<[string, string, TableAnswers, string, readonly string[]]>([
    ['the unit', 'minutes,rain\n0,1\n5,3\n10,2', {}, 'depthUnit', ['mm', 'in', 'cm']],
    [
      'what plain numbers of time are',
      'time,rain (mm)\n0,1\n5,3\n10,2',
      {},
      'timeUnit',
      ['min', 'h'],
    ],
    [
      'whether rising depths are a total',
      'minutes,rain (mm)\n0,1\n5,2\n10,3',
      {},
      'depths',
      ['each-step', 'running-total'],
    ],
    [
      'whether nearly always rising depths are a total',
      'minutes,rain (mm)\n0,1\n5,2\n10,3\n15,4\n20,5\n25,0.1\n30,1\n35,2\n40,3',
      {},
      'depths',
      ['each-step', 'running-total'],
    ],
    [
      'which comes first in a date',
      'time,rain (mm)\n3/4/2024 10:00,1\n3/4/2024 10:05,3\n3/4/2024 10:10,2',
      {},
      'dateOrder',
      ['month-first', 'day-first'],
    ],
    [
      'which column',
      'minutes,rain a,rain b\n0,1,2\n5,3,1',
      {},
      'depthColumn',
      ['rain a', 'rain b'],
    ],
    [
      'in what steps uneven times are summed up',
      'minutes,rain (mm)\n0,1\n7,3\n10,2',
      {},
      'stepMin',
      ['5', '10', '15', '30', '60'],
    ],
    [
      'in what time a single reading fell',
      'time,rain (mm)\n2024-05-01 10:00,12',
      { depths: 'each-step' },
      'stepMin',
      ['5', '10', '15', '30', '60'],
    ],
  ])('asks %s', (_, text, answers, asks, choices) => {
    expect(askedBy(() => readMeasuredRain(text, 'm', answers))).toEqual([asks, choices]);
  });

  it('does as it is answered', () => {
    const rising = 'minutes,rain (mm)\n0,1\n5,2\n10,3';
    expect(depths(rising, { depths: 'each-step' })).toEqual([1, 2, 3]);
    expect(depths(rising, { depths: 'running-total' })).toEqual([1, 1, 1]);
    expect(
      depths('minutes,rain a,rain b\n0,1,2\n5,3,1\n10,2,4', {
        depthColumn: 'rain b',
        depthUnit: 'mm',
      }),
    ).toEqual([2, 1, 4]);
    expect(depths('minutes,rain (mm)\n0,1\n7,3\n10,2', { stepMin: '10' })).toEqual([4, 2]);
  });

  it.each([
    [
      'the same time twice',
      'minutes,rain (mm)\n0,1\n5,3\n5,2',
      'rain-time-twice',
      /line 4: line 3 has the same time/,
    ],
    ['a negative depth', 'minutes,rain (mm)\n0,1\n5,-3\n10,2', 'rain-depth', /line 3: '-3'/],
    [
      'a time that is none',
      'time,rain (mm)\n2024-05-01 10:00,1\n2024-06-31 10:05,3',
      'rain-time',
      /line 3: '2024-06-31 10:05'/,
    ],
    [
      'a total that falls',
      'minutes,cumulative (mm)\n0,0\n5,5\n10,2',
      'rain-falls',
      /line 4: the total falls from 5.00 to 2.00/,
    ],
    ['no rain at all', 'minutes,rain (mm)\n0,0\n5,0\n10,0', 'rain-dry', /no rain/],
    ['no columns of the kind', 'hello there\ngood bye', 'rain-no-columns', /no line/],
    [
      'a year of minutes',
      'time,rain (mm)\n2024-01-01 00:00,1\n2024-01-01 00:01,0\n2024-12-01 00:00,2',
      'rain-too-long',
      /long record/,
    ],
    [
      'more than a plan holds',
      'minutes,rain (in)\n0,90\n5,20\n10,10',
      'rain-too-much',
      /check the unit/,
    ],
  ])('refuses a file with %s', (_, text, code, words) => {
    const fault = faultOf(() =>
      readMeasuredRain(text, 'm', {
        depths: code === 'rain-dry' ? 'each-step' : undefined,
      } as TableAnswers),
    );
    expect(fault.code).toBe(code);
    expect(fault.message).toMatch(words);
  });

  it('sums up steps finer than a plan can hold', () => {
    const text =
      'time,rain (mm)\n2024-05-01 10:00:00,1\n2024-05-01 10:00:02,3\n2024-05-01 10:00:04,2';
    expect(depths(text, { stepMin: '5' })).toEqual([6]);
  });
});

describe('a long record', () => {
  it('counts days as events', () => {
    const record = readRainRecord(
      'date,precipitation (mm)\n2020-01-01,5\n2020-01-02,7\n2020-01-03,0\n2020-01-04,\n2020-01-05,T\n2020-01-30,0',
      'days',
    );
    expect(record.isDaily).toBe(true);
    expect([...record.eventsMm]).toEqual([5, 7]);
    expect(record.missingShare).toBeCloseTo(25 / 30, 9);
    expect(record.notes.join()).toMatch(/83\.3 % of its days/);
  });

  it('parts hourly rain into events by six dry hours', () => {
    const hours = [0, 1, 7, 8, 15, 16];
    const rows = Array.from({ length: 20 }, (_, hour) => {
      const time = `2020-01-01 ${String(hour).padStart(2, '0')}:00`;
      return `${time},${hours.includes(hour) ? 1 : 0}`;
    });
    const text = `time,rain_mm\n${rows.join('\n')}\n2020-02-01 00:00,0`;
    // Dry from 2 to 6 is five hours, from 9 to 14 six.
    expect([...readRainRecord(text, 'hours').eventsMm]).toEqual([4, 2]);
    expect([...readRainRecord(text, 'hours', {}, 5).eventsMm]).toEqual([2, 2, 2]);
  });

  it('takes a rate for the time of its step', () => {
    const times = ['00:00', '00:30', '01:00'].map((time) => `2023-05-01 ${time}`);
    const text = `time,rain (mm/h)\n${times.map((time) => `${time},6`).join('\n')}\n2023-06-01 00:00,0`;
    expect([...readRainRecord(text, 'rates').eventsMm]).toEqual([9]);
  });

  const record = (...events: number[]): Pick<RainRecord, 'name' | 'eventsMm'> => ({
    name: 'r',
    eventsMm: Float64Array.from(events),
  });

  it('takes the depth that a share of events does not exceed, small ones left out (Utah DWQ 2016; Michigan 2006, seen)', () => {
    const ten = record(1, 2.5, 2.54, 4, 6, 8, 10, 12, 14, 16, 18, 20);
    expect(percentileDepth(ten, 0.9)).toEqual({ depthMm: 18, counted: 10, dropped: 2 });
    expect(percentileDepth(ten, 1).depthMm).toBe(20);
    expect(percentileDepth(ten, 0.5).depthMm).toBe(10);
    expect(percentileDepth(ten, 0.9, 0).counted).toBe(12);
  });

  it('has no percentile when no event is left', () => {
    expect(faultOf(() => percentileDepth(record(1, 2), 0.9)).code).toBe('record-dry');
  });

  it('is no record without dates', () => {
    expect(faultOf(() => readRainRecord('minutes,rain (mm)\n0,1\n5,3', 'm')).code).toBe(
      'record-not-dated',
    );
  });

  it('is no record when it spans some hours', () => {
    const hours = '2020-01-01 10:00,1\n2020-01-01 11:00,3\n2020-01-01 12:00,2';
    const fault = faultOf(() => readRainRecord(`time,rain (mm)\n${hours}`, 'm'));
    expect(fault.code).toBe('record-short');
    expect(fault.message).toMatch(/it spans 3 h, .*30 days at least.*measured storm/);
  });

  it('asks which of several stations to take', () => {
    const text =
      'station,date,rain_mm\nA,2020-01-01,5\nB,2020-01-01,7\nA,2020-01-02,1\nB,2020-01-02,2\nA,2020-02-01,0\nB,2020-02-01,0';
    expect(askedBy(() => readRainRecord(text, 's'))).toEqual(['station', ['A', 'B']]);
    expect([...readRainRecord(text, 's', { station: 'B' }).eventsMm]).toEqual([7, 2]);
  });

  it.skipIf(!there)(real('counts the days of Seattle, 2012 to 2015'), () => {
    const text = realText('seattle_daily_2012_2015_mm.csv');
    const { eventsMm, years, isDaily } = readRainRecord(text, 's', { depthUnit: 'mm' });
    expect(isDaily).toBe(true);
    expect(years).toBeCloseTo(4, 2);
    // Year totals and largest day of the file's description (US government work).
    const [heading, ...days] = text.trim().split('\n');
    for (const [year, totalMm] of [
      [2012, 1226],
      [2013, 828],
      [2014, 1232.8],
      [2015, 1139.2],
    ]) {
      const ofYear = [heading, ...days.filter((day) => day.startsWith(String(year)))].join('\n');
      const record = readRainRecord(ofYear, 's', { depthUnit: 'mm' });
      expect(record.eventsMm.reduce((a, b) => a + b, 0)).toBeCloseTo(totalMm, 6);
      expect(record.missingShare).toBe(0);
    }
    expect(eventsMm.reduce((a, b) => a + b, 0)).toBeCloseTo(1226 + 828 + 1232.8 + 1139.2, 6);
    expect(percentileDepth({ name: 's', eventsMm }, 1).depthMm).toBe(55.9);
  });

  it.skipIf(!there)(real('asks which New York airport, and adds up its hours of 2013'), () => {
    const text = realText('nyc_hourly_2013_ewr_jfk_lga.csv');
    expect(askedBy(() => readRainRecord(text, 'n', { depthUnit: 'in' }))).toEqual([
      'station',
      ['EWR', 'JFK', 'LGA'],
    ]);
    for (const [station, inches] of [
      ['EWR', 43.88],
      ['JFK', 34.69],
      ['LGA', 38.14],
    ] as const) {
      const { eventsMm, isDaily } = readRainRecord(text, 'n', { depthUnit: 'in', station });
      expect(isDaily).toBe(false);
      expect(eventsMm.reduce((a, b) => a + b, 0) / 25.4).toBeCloseTo(inches, 6);
    }
  });
});
