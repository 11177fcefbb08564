import { describe, expect, it } from 'vitest';
import { handLengthText, parseHandLength } from '../../../src/app/questions/here/soil/hand-length';

describe('a length read off a ruler', () => {
  it.each([
    ['12', 'us', 12 * 0.0254],
    ['3 7/8', 'us', 3.875 * 0.0254],
    ['12', 'metric', 0.12],
    ['12,5', 'metric', 0.125],
    ['1.2 m', 'us', 1.2],
    ['2 ft', 'metric', 0.6096],
  ] as const)('%s in %s units', (text, units, metres) => {
    expect(parseHandLength(text, units, 'water')).toBeCloseTo(metres, 12);
  });

  it.each(['-3', '\u22123', 'deep', ''])(
    'refuses %j in a sentence that names the field',
    (text) => {
      expect(() => parseHandLength(text, 'us', 'water')).toThrow(/^water: /);
    },
  );

  it('reads back as it is shown', () => {
    for (const units of ['us', 'metric'] as const) {
      const metres = parseHandLength('10.125', units, 'water');
      const again = parseHandLength(handLengthText(metres, units), units, 'water');
      expect(Math.abs(again - metres)).toBeLessThan(0.0001);
    }
    expect(handLengthText(3.875 * 0.0254, 'us')).toBe('3.875');
    expect(handLengthText(0.2, 'metric')).toBe('20');
  });
});
