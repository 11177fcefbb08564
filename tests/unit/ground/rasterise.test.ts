import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import { areaM2 } from '../../../lib/frame/shapes';
import { cellsAlong, cellsAround, cellsInside } from '../../../lib/ground/rasterise';
import { box } from './plane-lot';

const grid = { width: 8, height: 6, cellM: 1, westM: 0, northM: 6 };

/** Draws cells as rows of text, north on top. */
function picture(cells: Iterable<number>): string[] {
  const rows = Array.from({ length: grid.height }, () => Array<string>(grid.width).fill('.'));
  for (const cell of cells) rows[Math.floor(cell / grid.width)][cell % grid.width] = '#';
  return rows.map((row) => row.join(''));
}

describe('cells inside a polygon', () => {
  it('are those whose centre lies inside, north row first', () => {
    const square: XY[] = box(1, 1, 4, 5);
    expect(picture(cellsInside(grid, [square]))).toEqual([
      '........',
      '.###....',
      '.###....',
      '.###....',
      '.###....',
      '........',
    ]);
  });

  it('leave holes out, whichever way the rings turn', () => {
    const outer: XY[] = box(0, 0, 5, 5);
    const hole: XY[] = box(2, 2, 3, 3);
    expect(picture(cellsInside(grid, [outer, hole]))[3]).toBe('##.##...');
    expect(picture(cellsInside(grid, [outer, hole.toReversed()]))[3]).toBe('##.##...');
  });

  it('belong to one of two neighbours that share a line through cell centres, never to both', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 6 }), (x) => {
        const west = cellsInside(grid, [box(0, 0, x + 0.5, 6)]);
        const east = cellsInside(grid, [box(x + 0.5, 0, 8, 6)]);
        expect(west.length + east.length).toBe(48);
        expect(new Set([...west, ...east]).size).toBe(48);
      }),
    );
  });

  it('come to the area of a large polygon within the length of its outline', () => {
    const fine = { width: 200, height: 200, cellM: 0.5, westM: -50, northM: 50 };
    const round: XY[] = Array.from({ length: 60 }, (_, i): XY => {
      const angle = (2 * Math.PI * i) / 60;
      return [1.3 + 30 * Math.cos(angle), -2.2 + 22 * Math.sin(angle)];
    });
    const cells = cellsInside(fine, [round]).length * 0.25;
    expect(Math.abs(cells - areaM2([round]))).toBeLessThan(areaM2([round]) * 0.005);
  });
});

describe('a shape along the edges of cells', () => {
  const offs = [-0.001, 0, 0.001].flatMap((x) => [-0.001, 0, 0.001].map((y): XY => [x, y]));

  it('takes the same cells a millimetre off, and through their middles as well', () => {
    for (const half of [0, 0.5]) {
      const drawn = ([dx, dy]: XY) => box(1 + half + dx, 1 + half + dy, 4 + half + dx, 5 + dy);
      const exact = picture(cellsInside(grid, [drawn([0, 0])]));
      for (const off of offs) expect(picture(cellsInside(grid, [drawn(off)]))).toEqual(exact);
    }
  });

  it('as a line takes those on one side, or on both', () => {
    const line: XY[] = [
      [2, 4],
      [5, 4],
      [5, 1],
    ];
    for (const [dx, dy] of offs) {
      const moved = line.map(([x, y]): XY => [x + dx, y + dy]);
      expect(picture(cellsAlong(grid, moved))).toEqual([
        '........',
        '........',
        '..####..',
        '.....#..',
        '.....#..',
        '.....#..',
      ]);
      const both = ['........', '..###...', '..####..', '....##..', '....##..', '........'];
      expect(picture(cellsAlong(grid, moved, { bothSides: true }))).toEqual(both);
      expect(picture(cellsAlong(grid, moved.toReversed(), { bothSides: true }))).toEqual(both);
    }
  });

  it('as a line through corners takes the cells on both its sides', () => {
    const line: XY[] = [
      [1, 1],
      [4, 4],
    ];
    const both = ['........', '........', '..##....', '.###....', '.##.....', '........'];
    expect(picture(cellsAlong(grid, line, { bothSides: true }))).toEqual(both);
    expect(picture(cellsAlong(grid, line.toReversed(), { bothSides: true }))).toEqual(both);
  });
});

describe('cells along a line', () => {
  it('are joined by edges, so that nothing slips through diagonally', () => {
    expect(
      picture(
        cellsAlong(grid, [
          [0.5, 0.5],
          [5.5, 5.5],
        ]),
      ),
    ).toEqual(['.....#..', '....##..', '...##...', '..##....', '.##.....', '##......']);
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.double({ min: 0.01, max: 7.9, noNaN: true }),
            fc.double({ min: 0.01, max: 5.9, noNaN: true }),
          ),
          { minLength: 2, maxLength: 4 },
        ),
        (line) => {
          const cells = [...cellsAlong(grid, line)];
          const found = new Set(cells);
          const reached = new Set([cells[0]]);
          for (let grown = true; grown;) {
            grown = false;
            for (const cell of reached) {
              const column = cell % grid.width;
              for (const next of [
                cell - grid.width,
                cell + grid.width,
                column > 0 ? cell - 1 : -1,
                column < grid.width - 1 ? cell + 1 : -1,
              ]) {
                if (found.has(next) && !reached.has(next)) {
                  reached.add(next);
                  grown = true;
                }
              }
            }
          }
          expect(reached.size).toBe(found.size);
        },
      ),
      { numRuns: 500, seed: 3 },
    );
  });

  it('stay on the grid when the line leaves it', () => {
    expect([
      ...cellsAlong(grid, [
        [6.5, 2.5],
        [12.5, 2.5],
      ]),
    ]).toEqual([3 * 8 + 6, 3 * 8 + 7]);
  });
});

describe('cells around a ring', () => {
  it('fill its bounding box and a margin, cut at the edge of the grid', () => {
    expect([...cellsAround(grid, box(2, 2, 3, 3), 1)].length).toBe(16);
    expect([...cellsAround(grid, box(-5, -5, 20, 20), 3)].length).toBe(48);
  });
});
