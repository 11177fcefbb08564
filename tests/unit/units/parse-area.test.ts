import { describe, expect, it } from 'vitest';
import { parseArea } from '../../../lib/units/parse-area';

describe('an area as people write it', () => {
  it.each([
    ['60m2', 60],
    ['60 m²', 60],
    ['650 sq ft', 650 * 0.09290304],
    ['12.5', 12.5],
  ])('%s', (text, m2) => {
    expect(parseArea(text, 'metric')).toBeCloseTo(m2, 9);
  });

  it('is in square feet without a unit where those are used', () => {
    expect(parseArea('100', 'us')).toBeCloseTo(9.290304, 9);
  });

  it.each(['', 'sixty', '60 acres', '-3', '6 m'])('refuses %s', (text) => {
    expect(() => parseArea(text, 'metric', 'garden area')).toThrow(
      /garden area: '.*' is no area; write 60 m2 or 650 ft2/,
    );
  });
});
