import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatArea,
  formatLength,
  formatRain,
  formatSlope,
  formatSpeed,
  formatVolume,
} from '../../../lib/units/format';
import { parseLength, parseRain } from '../../../lib/units/parse-length';
import { acreM2, cubicFootM3, cubicYardM3, gallonM3, surveyFootM } from '../../../lib/units/units';
import { ownMsSince } from '../own-time';

describe('factors', () => {
  it('agree with the values printed by standards bodies', () => {
    expect(gallonM3).toBeCloseTo(3.785411784e-3, 15);
    expect(acreM2).toBeCloseTo(4046.8564224, 9);
    expect(cubicFootM3).toBeCloseTo(0.028316846592, 15);
    expect(cubicYardM3).toBeCloseTo(0.764554857984, 12);
    expect(surveyFootM).toBeCloseTo(0.3048006096, 10);
  });
});

describe('parseLength', () => {
  const cases: [text: string, metres: number][] = [
    ['18 in', 0.4572],
    ['18"', 0.4572],
    [`1'6"`, 0.4572],
    [`1' 6 1/2"`, 0.4699],
    ['1 ft 6 in', 0.4572],
    ['1’6”', 0.4572],
    ["1'6''", 0.4572],
    ['½ in', 0.0127],
    ['0.45 m', 0.45],
    ['0,45 m', 0.45],
    ['45cm', 0.45],
    ['450 MM', 0.45],
    ['1,250.5 m', 1250.5],
    ['1,250,000 mm', 1250],
    ['2 yd', 1.8288],
    ['.5 m', 0.5],
    ['10', 3.048],
  ];
  for (const [text, metres] of cases) {
    it(`reads ${text}`, () => {
      expect(parseLength(text, 'us')).toBeCloseTo(metres, 12);
    });
  }

  it('takes a bare number in the user’s unit', () => {
    expect(parseLength('10', 'metric')).toBe(10);
  });

  for (const [text, why] of [
    ['', 'not a number'],
    ['deep', 'not a number'],
    ['5 furlongs', "unknown unit 'furlongs'"],
    ['1,250 m', 'two ways'],
    ['6 in 1 ft', 'do not add up'],
    ['1 ft 6', 'do not add up'],
    ['1 m 1 m', 'do not add up'],
    ['-3 in', 'below zero'],
    ['1/0 in', 'too large'],
    ['9'.repeat(400), 'too large'],
  ]) {
    it(`refuses '${text.slice(0, 12)}'`, () => {
      expect(() => parseLength(text, 'us', { field: 'ponding depth' })).toThrow(
        new RegExp(`^ponding depth: .*${why}.*; write it like 18 in`),
      );
    });
  }

  it('reads what is below zero where that makes sense', () => {
    expect(parseLength('−2 m', 'us', { signed: true })).toBe(-2);
  });

  it('answers fast on a long text', () => {
    const start = process.cpuUsage();
    expect(() => parseLength('1 '.repeat(50_000), 'us')).toThrow();
    expect(() => parseLength('1'.repeat(100_000) + ' '.repeat(100_000) + 'x', 'us')).toThrow();
    expect(ownMsSince(start)).toBeLessThan(1000);
  });
});

describe('parseRain', () => {
  it('reads millimetres, inches and centimetres', () => {
    expect(parseRain('25mm')).toBeCloseTo(25, 12);
    expect(parseRain('1 in')).toBeCloseTo(25.4, 12);
    expect(parseRain('2.5 cm')).toBeCloseTo(25, 12);
    expect(parseRain('1.5', 'us')).toBeCloseTo(38.1, 12);
    expect(parseRain('30', 'metric')).toBeCloseTo(30, 12);
  });

  it('does not guess a unit', () => {
    expect(() => parseRain('25')).toThrow(/rain: '25' .* no unit; write it like 25mm or 1 in/);
  });
});

describe('formats', () => {
  it('show lengths as far as the data bear', () => {
    expect(formatLength(0.45, 'metric')).toBe('45 cm');
    expect(formatLength(12.3456, 'metric')).toBe('12.35 m');
    expect(formatLength(12.3456, 'metric', 0.1)).toBe('12.3 m');
    expect(formatLength(0.45, 'metric', 0.1)).toBe('0.5 m');
    expect(formatLength(1234.5, 'metric', 1)).toBe('1235 m');
    expect(formatLength(0.0123, 'metric', 0.001)).toBe('1.2 cm');
    expect(formatLength(0.4572, 'us')).toBe('18 in');
    expect(formatLength(3.048, 'us')).toBe('10 ft');
    expect(formatLength(3.2, 'us')).toBe('10 ft 6 in');
    expect(formatLength(3.0475, 'us')).toBe('10 ft');
    expect(formatLength(3.2, 'us', 0.1)).toBe('10.5 ft');
    expect(formatLength(-0.05, 'us')).toBe('-2 in');
    expect(formatLength(-0.0001, 'metric')).toBe('0 cm');
    expect(formatLength(Number.NaN, 'us')).toBe('–');
  });

  it('show areas and volumes in the unit of their size', () => {
    expect(formatArea(27.9, 'metric')).toBe('28 m²');
    expect(formatArea(12_345, 'metric')).toBe('1.2 ha');
    expect(formatArea(27.9, 'us')).toBe('300 ft²');
    expect(formatArea(2200, 'us')).toBe('23,700 ft²');
    expect(formatArea(8100, 'us')).toBe('2.0 acres');
    expect(formatVolume(4.13, 'metric')).toBe('4.1 m³');
    expect(formatVolume(0.352, 'metric')).toBe('352 L');
    expect(formatVolume(0, 'metric')).toBe('0 L');
    expect(formatVolume(1.2, 'us')).toBe('317 gal');
    expect(formatVolume(12, 'us')).toBe('424 ft³');
    expect(formatVolume(0.2, 'metric', 4)).toBe('0.20 m³');
  });

  it('show rain and slope', () => {
    expect(formatRain(40, 'metric')).toBe('40 mm');
    expect(formatRain(2.54, 'metric')).toBe('2.5 mm');
    expect(formatRain(25.4, 'us')).toBe('1.00 in');
    expect(formatSpeed(0.3048, 'us')).toBe('1.0 ft/s');
    expect(formatSpeed(0.3048, 'metric')).toBe('0.30 m/s');
    expect(formatSlope(0.0321)).toBe('3.2 %');
    expect(formatSlope(0.125)).toBe('13 %');
  });

  it('are read back within what they show', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 900, noNaN: true }),
        fc.constantFrom('us' as const, 'metric' as const),
        fc.constantFrom(0.005, 0.01, 0.02, 0.1, 0.5),
        (metres, system, precisionM) => {
          const back = parseLength(formatLength(metres, system, precisionM), system);
          // Inches are the coarsest step that a precision of an inch or less is shown in.
          expect(Math.abs(back - metres)).toBeLessThanOrEqual(Math.max(precisionM, 0.0127) + 1e-9);
        },
      ),
      { seed: 3, numRuns: 1000 },
    );
  });
});
