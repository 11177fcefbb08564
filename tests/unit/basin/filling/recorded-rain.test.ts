import { describe, expect, it } from 'vitest';
import { recordedRain } from '../../../../lib/basin/filling/recorded-rain';

describe('a long record of rain from text', () => {
  it('as steps in order, the missing ones marked', () => {
    const text =
      'time,rain_mm\n2020-01-01 00:00,1.5\n2020-01-01 01:00,0\n2020-01-01 02:00,NA\n2020-01-01 04:00,2\n2020-01-31 00:00,0\n';
    const { record } = recordedRain(text, 'rain.csv');
    expect(record.stepS).toBe(3600);
    expect([...record.depthsMm.slice(0, 5)]).toEqual([1.5, 0, NaN, NaN, 2]);
    expect(record.depthsMm).toHaveLength(30 * 24 + 1);
    expect(record.start).toBe('2020-01-01T00:00:00.000Z');
  });

  it('by days, in inches', () => {
    const { record } = recordedRain(
      'date,rain (in)\n2020-02-28,1\n2020-02-29,0\n2020-03-01,0.5\n2020-03-31,0\n',
      'd.csv',
    );
    expect(record.stepS).toBe(86_400);
    expect(record.depthsMm[0]).toBeCloseTo(25.4, 9);
    expect(record.depthsMm[2]).toBeCloseTo(12.7, 9);
  });

  it('refuses a storm without dates, and steps of minutes', () => {
    expect(() => recordedRain('minutes,rain_mm\n0,1\n10,2\n20,0\n', 's.csv')).toThrow(
      /not a record of days or hours/,
    );
    const minutes = Array.from({ length: 9 }, (_, i) => `2020-01-01 00:0${i},1`).join('\n');
    expect(() => recordedRain(`time,rain_mm\n${minutes}\n2020-02-01 00:00,0`, 'm.csv')).toThrow(
      /1 min apart/,
    );
  });

  it('refuses some hours, and rain that never fell anywhere, each with the reason', () => {
    const hours = Array.from({ length: 9 }, (_, i) => `2020-01-01 0${i}:00,1`).join('\n');
    expect(() => recordedRain(`time,rain_mm\n${hours}\n`, 'h.csv')).toThrow(
      /h\.csv: it spans 9 h, .*30 days at least/,
    );
    const withMark = `time,rain_mm\n${hours}\n2020-01-01 09:00,999\n2020-02-01 00:00,0\n`;
    expect(() => recordedRain(withMark, 'h.csv')).toThrow(
      /h\.csv, line 11: 999 mm in 1 h is more than the 305 mm .*check the unit/,
    );
  });
});
