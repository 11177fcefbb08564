import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fillHoles } from '../../../../lib/elevation/window/fill-holes';

function ground(rows: readonly string[]): { z: Float32Array; width: number; height: number } {
  const z = Float32Array.from(rows.join(''), (mark) => (mark === '.' ? Number.NaN : Number(mark)));
  return { z, width: rows[0].length, height: rows.length };
}

describe('fillHoles', () => {
  it('fills a hole by the mean of its rim and leaves what touches the border', () => {
    const { z, width, height } = ground([
      '.5555', //
      '555.5',
      '51555',
      '5.155',
      '51555',
    ]);
    const holes = fillHoles(z, width, height, 1, 25);
    expect(holes).toMatchObject({ count: 2, areaM2: 2, leftCount: 0 });
    expect(z[0]).toBeNaN();
    expect(z[8]).toBeCloseTo(5, 5);
    expect(z[16]).toBeCloseTo(2, 5);
    expect(Array.from(holes.mask!).flatMap((on, i) => (on ? [i] : []))).toEqual([8, 16]);
  });

  it('takes cells that touch by a corner as one hole', () => {
    const { z, width, height } = ground([
      '555555', //
      '5.5555',
      '55.555',
      '555.55',
      '555555',
    ]);
    expect(fillHoles(z, width, height, 2, 8)).toMatchObject({
      count: 0,
      leftCount: 1,
      leftAreaM2: 12,
    });
    expect(fillHoles(z, width, height, 2, 12)).toMatchObject({
      count: 1,
      areaM2: 12,
      leftCount: 0,
    });
  });

  it('continues a plane, and stays within its rim on any ground', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1, max: 9, noNaN: true }), { minLength: 100, maxLength: 100 }),
        (heights) => {
          const z = Float32Array.from(heights);
          for (const i of [33, 34, 43, 44, 45, 55]) z[i] = Number.NaN;
          const rim = z.filter((value) => !Number.isNaN(value));
          const [low, high] = [Math.min(...rim), Math.max(...rim)];
          fillHoles(z, 10, 10, 1, 25);
          for (const i of [33, 34, 43, 44, 45, 55]) {
            expect(z[i]).toBeGreaterThanOrEqual(low);
            expect(z[i]).toBeLessThanOrEqual(high);
          }
        },
      ),
      { seed: 7, numRuns: 50 },
    );
    const plane = Float32Array.from(
      { length: 144 },
      (_, i) => 3 + 0.2 * (i % 12) - 0.1 * Math.floor(i / 12),
    );
    const z = plane.slice();
    for (let row = 4; row < 9; row++) for (let c = 3; c < 8; c++) z[row * 12 + c] = Number.NaN;
    fillHoles(z, 12, 12, 1, 25);
    z.forEach((value, i) => {
      expect(value).toBeCloseTo(plane[i], 3);
    });
  });
});
