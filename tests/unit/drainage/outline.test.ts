import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { outline, type RegionOutline, type CellRing } from '../../../lib/drainage/answer/outline';

/** Cells drawn as text: `#` inside. */
function outlined(...rows: string[]): RegionOutline[] {
  const cells = rows.flatMap((row) => Array.from(row, (mark) => (mark === '#' ? 1 : 0)));
  return outline(cells, rows[0].length, rows.length);
}

/** Signed area in cells, positive counterclockwise with north up. */
function signedArea(ring: CellRing): number {
  let twice = 0;
  for (let at = 1; at < ring.length; at++) {
    twice += ring[at][0] * ring[at - 1][1] - ring[at - 1][0] * ring[at][1];
  }
  return twice / 2;
}

describe('outline', () => {
  it('of one cell is a square, counterclockwise with north up', () => {
    expect(outlined('...', '.#.')).toEqual([
      {
        outer: [
          [1, 1],
          [1, 2],
          [2, 2],
          [2, 1],
          [1, 1],
        ],
        holes: [],
      },
    ]);
  });

  it('of a block has four corners only, also along the edge of the grid', () => {
    const [only] = outlined('##', '##', '##');
    expect(only.outer).toEqual([
      [0, 0],
      [0, 3],
      [2, 3],
      [2, 0],
      [0, 0],
    ]);
  });

  it('of nothing is empty', () => {
    expect(outlined('..', '..')).toEqual([]);
  });

  it('keeps cells apart that touch at a corner only', () => {
    const regions = outlined('#.', '.#');
    expect(regions.map(({ outer }) => signedArea(outer))).toEqual([1, 1]);
  });

  it('has a clockwise ring for a hole', () => {
    const [only] = outlined('###', '#.#', '###');
    expect(signedArea(only.outer)).toBe(9);
    expect(only.holes.map(signedArea)).toEqual([-1]);
  });

  it('has one ring for each of two holes that touch at a corner', () => {
    const [only] = outlined('####', '#.##', '##.#', '####');
    expect(signedArea(only.outer)).toBe(16);
    expect(only.holes.map(signedArea)).toEqual([-1, -1]);
  });

  it('parts a hole from the outside where they touch at a corner', () => {
    const [only] = outlined('###.', '#.##', '##.#', '.###');
    expect(signedArea(only.outer)).toBe(14);
    expect(only.holes.map(signedArea)).toEqual([-1, -1]);
    const [open] = outlined('##.', '#.#', '###');
    expect(signedArea(open.outer)).toBe(8);
    expect(open.holes.map(signedArea)).toEqual([-1]);
  });

  it('gives an island in a hole a region of its own', () => {
    const regions = outlined('#####', '#...#', '#.#.#', '#...#', '#####');
    expect(regions.map(({ outer, holes }) => [signedArea(outer), holes.length])).toEqual([
      [25, 1],
      [1, 0],
    ]);
  });

  it('leaves out regions of too few cells, whatever is in them', () => {
    const mask = Array.from('#..##.....###...#.#...###....', (mark) => (mark === '#' ? 1 : 0));
    const cells = [...mask, ...Array.from({ length: 6 }, () => 0)];
    const areas = (leastCells: number): number[] =>
      outline(cells, 7, 5, { leastCells }).map(({ outer }) => signedArea(outer));
    expect(areas(1)).toEqual(outline(cells, 7, 5).map(({ outer }) => signedArea(outer)));
    const all = areas(1);
    expect(areas(2).length).toBeLessThan(all.length);
    expect(areas(99)).toEqual([]);
  });

  it('follows the label asked for', () => {
    expect(outline([2, 3, 3], 3, 1, { value: 3 }).map(({ outer }) => signedArea(outer))).toEqual([
      2,
    ]);
  });

  it('has the area of the cells, right-angled corners, and no corner twice in a ring', () => {
    const mask = fc
      .tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 9 }))
      .chain(([width, height]) =>
        fc.record({
          width: fc.constant(width),
          cells: fc.array(fc.integer({ min: 0, max: 1 }), {
            minLength: width * height,
            maxLength: width * height,
          }),
        }),
      );
    fc.assert(
      fc.property(mask, ({ width, cells }) => {
        const regions = outline(cells, width, cells.length / width);
        let area = 0;
        for (const { outer, holes } of regions) {
          expect(signedArea(outer)).toBeGreaterThan(0);
          for (const hole of holes) expect(signedArea(hole)).toBeLessThan(0);
          for (const ring of [outer, ...holes]) {
            area += signedArea(ring);
            expect(ring[ring.length - 1]).toEqual(ring[0]);
            const open = ring.slice(1);
            expect(new Set(open.map(String)).size).toBe(open.length);
            open.forEach(([x, y], at) => {
              const [nextX, nextY] = open[(at + 1) % open.length];
              const [thenX, thenY] = open[(at + 2) % open.length];
              const turn = (nextX - x) * (thenX - nextX) + (nextY - y) * (thenY - nextY);
              expect(Math.abs(turn)).toBe(0);
            });
          }
        }
        expect(area).toBe(cells.filter((cell) => cell === 1).length);
      }),
      { numRuns: 1000, seed: 20251128 },
    );
  });
});
