import { describe, expect, it } from 'vitest';
import { parseBearing, parseTurn } from '../../../lib/units/parse-angle';

describe('bearings', () => {
  it.each([
    ['45', 45],
    ['45,5', 45.5],
    ['360', 0],
    [`12° 30'`, 12.5],
    [`12°30'36"`, 12.51],
    ['N 45 E', 45],
    ['s30w', 210],
    ['S 10 E', 170],
    ['n 10 w', 350],
    ['N 0 W', 0],
  ])('%s is %d', (text, deg) => {
    expect(parseBearing(text)).toBeCloseTo(deg, 9);
  });
  it.each(['', 'north', '361', 'N 91 E', '-5', '4 5 6 7'])(
    '%s is refused in a sentence',
    (text) => {
      expect(() => parseBearing(text)).toThrow(/cannot be read as an angle.*\.$/);
    },
  );
});

describe('turns', () => {
  it.each([
    ['90', 90],
    ['-90', -90],
    ['90 left', -90],
    ['l 45', -45],
    ['right 12.5', 12.5],
    ['-90 left', 90],
  ])('%s is %d', (text, deg) => {
    expect(parseTurn(text)).toBe(deg);
  });
  it.each(['', 'left', '181', 'l 90 r'])('%s is refused in a sentence', (text) => {
    expect(() => parseTurn(text)).toThrow(/cannot be read as an angle.*\.$/);
  });
});
