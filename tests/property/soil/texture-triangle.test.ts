import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { textureClasses, textureOf } from '../../../lib/soil/texture-triangle';

describe('the texture triangle', () => {
  it('is covered, and once only, by the twelve classes', () => {
    const met = new Set<string>();
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 999_999 }),
        fc.integer({ min: 0, max: 999_999 }),
        (over, of) => {
          // Two numbers that miss every boundary, folded into the triangle.
          const [a, b] = [(over + 0.5) / 1e4, (of + 0.25) / 1e4];
          const [sand, clay] = a + b <= 100 ? [a, b] : [100 - a, 100 - b];
          const silt = 100 - sand - clay;
          const holding = textureClasses.filter(({ holds }) => holds({ sand, silt, clay }));
          expect(holding.map(({ texture }) => texture)).toHaveLength(1);
          expect(textureOf({ sand, silt, clay })).toBe(holding[0].texture);
          met.add(holding[0].texture);
        },
      ),
      { seed: 7, numRuns: 5000 },
    );
    expect(met.size).toBe(12);
  });

  it('has a class at each whole per cent, where boundaries meet', () => {
    let points = 0;
    for (let sand = 0; sand <= 100; sand++) {
      for (let clay = 0; clay + sand <= 100; clay++) {
        const particles = { sand, silt: 100 - sand - clay, clay };
        const holding = textureClasses.filter(({ holds }) => holds(particles));
        expect(holding.length, JSON.stringify(particles)).toBe(1);
        points++;
      }
    }
    expect(points).toBe(5151);
  });

  it('takes figures that miss 100 % by rounding', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 100 }),
        fc.integer({ min: 0, max: 100 }),
        fc.constantFrom(-1, -0.5, 0.3, 1),
        (a, b, miss) => {
          const [low, high] = [Math.min(a, b), Math.max(a, b)];
          fc.pre(low + miss >= 0);
          const particles = { sand: low + miss, silt: high - low, clay: 100 - high };
          expect(textureClasses.map(({ texture }) => texture)).toContain(textureOf(particles));
        },
      ),
      { seed: 7, numRuns: 2000 },
    );
  });
});
