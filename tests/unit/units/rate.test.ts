import { describe, expect, it } from 'vitest';
import { formatRate, parsePercolationTime, parseRate } from '../../../lib/units/rate';

const mmPerH = 1e-3 / 3600;

describe('a rate in words', () => {
  it.each([
    ['12 mm/h', 12],
    ['12', 12],
    ['1,5 cm/h', 15],
    ['0.5 in/h', 12.7],
    ['0.5 in per hour', 12.7],
    ['6 in a day', 6.35],
    ['1/2 in/h', 12.7],
    ['12 /h', Number.NaN],
    ['-3 mm/h', Number.NaN],
    ['', Number.NaN],
    ['0 min/in', Number.NaN],
    ['3 mm/week', Number.NaN],
    ['1e', Number.NaN],
  ])('%s', (text, expected) => {
    if (Number.isNaN(expected)) expect(() => parseRate(text, 'metric')).toThrow('12 mm/h');
    else expect(parseRate(text, 'metric') / mmPerH).toBeCloseTo(expected, 9);
  });
});

describe('a percolation time', () => {
  it.each(['20 min/in', '20 minutes per inch', '8 min/cm', '1 h/in'])(
    '%s is no rate: the hole is asked for',
    (text) => {
      expect(() => parseRate(text, 'metric')).toThrow(/percolation time.*diameter.*depth of water/);
    },
  );

  it('is read as a time and a fall', () => {
    expect(parsePercolationTime('20 min/in', 'metric')).toEqual({
      timeS: 1200,
      fallM: expect.closeTo(0.0254, 12) as number,
    });
    expect(parsePercolationTime('8 minutes per cm', 'us')?.timeS).toBe(480);
    for (const text of ['12 mm/h', '12', '0 min/in', '5 min/h', '']) {
      expect(parsePercolationTime(text, 'metric')).toBeNull();
    }
  });
});

describe('a rate for people', () => {
  it.each([
    [12.7 * mmPerH, '12.7 mm/h', '0.5 in/h'],
    [228.6 * mmPerH, '229 mm/h', '9 in/h'],
    [1.524 * mmPerH, '1.52 mm/h', '0.06 in/h'],
    [0, '0 mm/h', '0 in/h'],
    [Number.NaN, '–', '–'],
  ])('%f', (rate, metric, us) => {
    expect(formatRate(rate, 'metric')).toBe(metric);
    expect(formatRate(rate, 'us')).toBe(us);
  });
});
