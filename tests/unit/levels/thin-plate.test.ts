import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import { thinPlate, type Sample } from '../../../lib/levels/thin-plate';

const read = (at: XY, valueM: number): Sample => ({ at, valueM, line: null });
const onLine = (at: XY, valueM: number, line = 0): Sample => ({ at, valueM, line });

describe('a thin plate', () => {
  it('is exact on a plane, wherever it lies, and foretells every level of it', () => {
    fc.assert(
      fc.property(
        fc.tuple(
          fc.double({ min: -0.2, max: 0.2, noNaN: true }),
          fc.double({ min: -0.2, max: 0.2, noNaN: true }),
          fc.double({ min: -100, max: 100, noNaN: true }),
        ),
        fc.uniqueArray(fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 40 })), {
          minLength: 5,
          maxLength: 25,
          selector: ([x, y]) => 100 * x + y,
        }),
        ([a, b, c], places) => {
          const plane = (x: number, y: number) => a * x + b * y + c;
          const surface = thinPlate(
            [...places, [-7, 3], [51, -5], [12, 60]].map(([x, y]) => read([x, y], plane(x, y))),
            0,
          );
          for (const [x, y] of [
            [3.3, 8.8],
            [33, 1],
          ]) {
            expect(surface?.at(x, y)).toBeCloseTo(plane(x, y), 8);
          }
          for (const off of surface?.leftOutM ?? [1]) expect(Math.abs(off)).toBeLessThan(1e-7);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('goes through what was read', () => {
    const samples = [
      read([0, 0], 1),
      read([10, 0], 1.3),
      read([0, 8], 0.7),
      read([9, 9], 1.1),
      read([5, 4], 0.4),
    ];
    const surface = thinPlate(samples, 0);
    for (const { at, valueM } of samples) expect(surface?.at(...at)).toBeCloseTo(valueM, 10);
  });

  it('lies level along a level line, at the level that the plane around it has there', () => {
    const plane = (x: number) => 2 + 0.05 * x;
    const around = [
      [-10, -10],
      [20, -9],
      [21, 18],
      [-8, 20],
    ].map(([x, y]) => read([x, y], plane(x)));
    // Across the fall: what is level in truth.
    const line = [0, 4, 8].map((y) => onLine([6, y], 0));
    const surface = thinPlate([...around, ...line], 1);
    expect(surface?.levelsM[0]).toBeCloseTo(plane(6), 9);
    expect(surface?.at(6, 2)).toBeCloseTo(plane(6), 9);
  });

  it('finds the level of a round pool’s edge from what lies around it, and its bottom below that', () => {
    const ring = Array.from({ length: 16 }, (_, i): XY => {
      const turn = (i * Math.PI) / 8;
      return [3 * Math.cos(turn), 3 * Math.sin(turn)];
    });
    const around = Array.from({ length: 12 }, (_, i) => {
      const turn = (i * Math.PI) / 6;
      return read([9 * Math.cos(turn), 9 * Math.sin(turn)], 5);
    });
    const samples = [...around, ...ring.map((at) => onLine(at, 0)), onLine([0, 0], -0.2)];
    const surface = thinPlate(samples, 1);
    if (surface === null) throw new Error('no surface');
    const [level] = surface.levelsM;
    for (const [x, y] of ring) expect(surface.at(x, y)).toBeCloseTo(level, 9);
    expect(surface.at(0, 0)).toBeCloseTo(level - 0.2, 9);
    expect(level).toBeLessThan(5);
  });

  it('is none where all lies on one line', () => {
    expect(
      thinPlate(
        [0, 1, 2, 3].map((k) => read([k, 2 * k], k)),
        0,
      ),
    ).toBeNull();
  });
});
