import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ShapedGround } from '../../../lib/drainage/storm/shaped-ground';
import { contributingShare } from '../../../lib/drainage/terrain/contributing-share';
import { makeRouting } from '../../../lib/drainage/terrain/routing';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import type { XY } from '../../../lib/frame/frame';
import { lotReaches } from '../../../lib/review/lot-reach';
import { noiseGround, randomFrom } from '../drainage/grounds';

/** Random ground that slopes, and boxes of lots well inside it. */
const cases = fc
  .tuple(
    noiseGround(9, 16),
    fc.integer({ min: 1, max: 2 ** 30 }),
    fc.double({ min: 0, max: 4, noNaN: true }),
  )
  .map(([{ width, height, z }, seed, slope]) => {
    const random = randomFrom(seed);
    const tilted = z.map((value, cell) => value + slope * Math.floor(cell / width));
    const lotOf = new Int32Array(z.length).fill(-1);
    const lots = [0, 1, 2].map((lot) => {
      const west = 1 + Math.floor(random() * (width - 5));
      const north = 1 + Math.floor(random() * (height - 5));
      const cells: number[] = [];
      for (let row = north; row < north + 3; row++) {
        for (let column = west; column < west + 3; column++) {
          const cell = row * width + column;
          if (lotOf[cell] !== -1) continue;
          lotOf[cell] = lot;
          cells.push(cell);
        }
      }
      return { id: `${lot}`, name: `${lot}`, own: true, cells: Int32Array.from(cells) };
    });
    const terrain = buildTerrain(tilted, width, height);
    const grid = { width, height, z: tilted, cellM: 1 };
    const ground = { grid, lots, lotOf, basins: [] };
    const shape = { ground, terrain, routing: makeRouting(terrain), cellM2: 1 };
    // only what the reach of lots looks at
    return shape as unknown as ShapedGround;
  });

const noOutline: readonly (readonly XY[])[] = [
  [
    [0, 0],
    [1, 0],
    [1, 1],
  ],
];

describe('whether all that drains to a lot is in the elevation', () => {
  it('is never claimed where water that runs backwards from the lot comes to its edge', () => {
    let cut = 0;
    let whole = 0;
    fc.assert(
      fc.property(cases, (shape) => {
        const reaches = lotReaches(shape, [noOutline, noOutline, noOutline]);
        shape.ground.lots.forEach(({ cells }, lot) => {
          if (cells.length === 0) return;
          const { cutByEdge } = contributingShare(shape.routing, cells);
          if (cutByEdge) expect(reaches[lot]).toBe('cut');
          if (reaches[lot] === 'whole') whole++;
          else cut++;
        });
      }),
      { numRuns: 300, seed: 3 },
    );
    expect(whole).toBeGreaterThan(50);
    expect(cut).toBeGreaterThan(50);
  });
});
