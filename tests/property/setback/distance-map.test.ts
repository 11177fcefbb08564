import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distanceMap } from '../../../lib/setback/measure/distance-map';

const raster = fc
  .tuple(fc.integer({ min: 1, max: 14 }), fc.integer({ min: 1, max: 14 }))
  .chain(([width, height]) =>
    fc.record({
      width: fc.constant(width),
      height: fc.constant(height),
      marked: fc.array(fc.constantFrom(0, 0, 0, 0, 1), {
        minLength: width * height,
        maxLength: width * height,
      }),
    }),
  );

describe('distanceMap', () => {
  it('is the distance to the nearest marked cell, and names a cell that is as near', () => {
    fc.assert(
      fc.property(raster, ({ width, height, marked }) => {
        const map = distanceMap(Uint8Array.from(marked), width, height);
        const gap = (a: number, b: number): number =>
          Math.hypot((a % width) - (b % width), Math.floor(a / width) - Math.floor(b / width));
        for (let i = 0; i < marked.length; i++) {
          const distances = marked.flatMap((mark, j) => (mark === 1 ? [gap(i, j)] : []));
          const least = Math.min(...distances);
          if (least === Infinity) {
            expect(map.cells[i]).toBe(Infinity);
            expect(map.nearest[i]).toBe(-1);
          } else {
            expect(map.cells[i]).toBeCloseTo(least, 5);
            expect(marked[map.nearest[i]]).toBe(1);
            expect(gap(i, map.nearest[i])).toBeCloseTo(least, 5);
          }
        }
      }),
      { seed: 17, numRuns: 300 },
    );
  });
});
