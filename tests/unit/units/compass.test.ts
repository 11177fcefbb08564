import { describe, expect, it } from 'vitest';
import { compass } from '../../../lib/units/compass';

describe('compass', () => {
  it.each([
    [0, 'north'],
    [22.4, 'north'],
    [22.6, 'north-east'],
    [90, 'east'],
    [200, 'south'],
    [247.6, 'west'],
    [337.6, 'north'],
    [359.9, 'north'],
    [-90, 'west'],
    [-405, 'north-west'],
    [765, 'north-east'],
  ])('%s° is %s', (bearingDeg, point) => {
    expect(compass(bearingDeg)).toBe(point);
  });
});
