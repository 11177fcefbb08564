import { describe, expect, it } from 'vitest';
import { accumulate, upstreamFirst } from '../../../lib/drainage/terrain/accumulate';
import { contributingShare } from '../../../lib/drainage/terrain/contributing-share';
import { flowDirections } from '../../../lib/drainage/terrain/flow-directions';
import { flowPath } from '../../../lib/drainage/terrain/flow-path';
import { makeRouting, withOneWater } from '../../../lib/drainage/terrain/routing';
import { spreadFlow } from '../../../lib/drainage/terrain/spread-flow';
import { pondCells } from '../../../lib/drainage/storm/water-surface';
import { buildTerrain, type Terrain } from '../../../lib/drainage/terrain/terrain';

const arrows = ['→', '↘', '↓', '↙', '←', '↖', '↑', '↗', '·', 'o'];

function ground(...rows: number[][]): Terrain {
  return buildTerrain(Float32Array.from(rows.flat()), rows[0].length, rows.length);
}

function drawn(terrain: Terrain): string[] {
  const surface = { heights: terrain.filled, width: terrain.width, height: terrain.height };
  const codes = [...flowDirections(surface, terrain.workspace, 'drawn')].map(
    (code) => arrows[code],
  );
  return Array.from({ length: terrain.height }, (_, row) =>
    codes.slice(row * terrain.width, (row + 1) * terrain.width).join(''),
  );
}

describe('flow directions', () => {
  it('lead over a flat by the shortest way to its lower edge', () => {
    const flat = ground([9, 9, 9, 9, 9, 9], [5, 5, 5, 5, 5, 9], [9, 9, 9, 9, 9, 9]);
    expect(drawn(flat)).toEqual(['oooooo', 'o←←←←o', 'oooooo']);
  });

  it('keep to the middle of a flat between higher ground', () => {
    // five rows of level ground that leave on the left; the outer rows first turn to the middle
    const rows = [9, 5, 5, 5, 5, 5, 9].map((height) => [
      height === 5 ? 5 : 9,
      ...Array<number>(7).fill(height),
      9,
    ]);
    rows[1][0] = 9;
    rows[2][0] = 9;
    rows[4][0] = 9;
    rows[5][0] = 9;
    const lines = drawn(ground(...rows));
    expect(lines[3]).toBe('o←←←←←←←o');
    expect(lines[1].slice(4, 7)).toBe('↙↙↙');
    expect(lines[5].slice(4, 7)).toBe('↖↖↖');
  });

  it('lead out of a filled low spot over its pass', () => {
    const terrain = ground([9, 9, 9, 9, 9], [9, 3, 4, 7, 2], [9, 9, 9, 9, 9]);
    expect(drawn(terrain)).toEqual(['ooooo', 'o→→→o', 'ooooo']);
    expect([...terrain.receiver.subarray(5, 10)]).toEqual([9, 8, 4, 0, 9]);
  });
});

describe('accumulation', () => {
  const directions = Uint8Array.from([0, 0, 2, 9, 0, 6, 4, 2, 4]);
  // → → ↓      the sixth cell is reached from above and drains up: a loop
  // o → ↑
  // ← ↓ ←

  it('refuses directions that run in a loop', () => {
    expect(() => accumulate(directions, 3)).toThrow('free of loops');
    expect(() => upstreamFirst(directions, 3)).toThrow('free of loops');
  });

  it('adds up weights along the way', () => {
    const down = Uint8Array.from([0, 0, 2, 9, 4, 4]);
    expect([...accumulate(down, 3)]).toEqual([1, 2, 3, 6, 5, 4]);
    const weights = Float64Array.from([1, 10, 100, 1000, 10000, 100000]);
    expect(accumulate(down, 3, weights)[3]).toBe(111111);
    expect([...upstreamFirst(down, 3)]).toEqual([0, 1, 2, 5, 4, 3]);
  });
});

describe('multiple flow', () => {
  it('shares water in proportion to slope', () => {
    // from the middle: 1 down to the west, 2 to the east, twice the square root of 2 to the south-east
    const terrain = ground(
      [9, 9, 9, 9, 9],
      [9, 9, 9, 9, 9],
      [9, 4, 5, 3, 9],
      [1, 9, 9, 5 - 2 * Math.SQRT2, 9],
      [9, 9, 9, 9, 1],
    );
    const weights = new Float64Array(25);
    weights[12] = 10;
    const water = spreadFlow(makeRouting(terrain), weights);
    expect(water[11]).toBeCloseTo(2, 6);
    expect(water[13]).toBeCloseTo(4, 6);
    expect(water[18]).toBeCloseTo(8, 6);
  });
});

describe('ponds', () => {
  const twoPits = [
    [9, 9, 9, 9, 9, 9],
    [9, 3, 6, 4, 7, 2],
    [9, 9, 9, 9, 9, 9],
  ];

  it('keep their cells while the terrain is asked for the cells of its low spots', () => {
    const terrain = ground(...twoPits);
    // each cell so large that no low spot is one water for its size
    const { ponds } = makeRouting(terrain, 1000);
    expect([...ponds.start]).toEqual([0, 0, 1, 2]);
    expect([...pondCells(terrain).start]).toEqual([0, 0, 2, 3]);
    expect([...ponds.start]).toEqual([0, 0, 1, 2]);
  });

  it('are found once for storms that fill the same large low spots, anew for others', () => {
    const routing = makeRouting(ground(...twoPits), 1000);
    const { tree } = routing.terrain;
    expect(routing.ponds.count).toBe(2);
    const whole = withOneWater(routing, [tree.root[1]]);
    expect(whole.ponds.count).toBe(1);
    expect(withOneWater(routing, [tree.root[1]])).toBe(whole);
    expect(withOneWater(routing, [1]).ponds.count).toBe(2);
    expect([...whole.ponds.cells]).toEqual([7, 8, 9]);
  });
});

describe('contributing share', () => {
  /** A valley that falls to the east, with a divide at column 2; west of it ground falls to the west. */
  const valley = Array.from({ length: 7 }, (_, row) =>
    Array.from({ length: 12 }, (_, column) => 20 + Math.abs(row - 3) - Math.abs(column - 2)),
  );

  it('is whole when no water could come from beyond the edge', () => {
    const rows = valley.map((row) => row.slice());
    rows[0].fill(1);
    rows[6].fill(1);
    const { cutByEdge, share } = contributingShare(makeRouting(ground(...rows)), [3 * 12 + 8]);
    expect(cutByEdge).toBe(false);
    expect(share[3 * 12 + 4]).toBeGreaterThan(0.3);
    expect(share[3 * 12 + 1]).toBe(0);
  });

  it('is cut by the edge when ground at the edge falls towards it, or the target lies there', () => {
    const routing = makeRouting(ground(...valley));
    expect(contributingShare(routing, [3 * 12 + 8]).cutByEdge).toBe(true);
    expect(contributingShare(routing, [3 * 12]).cutByEdge).toBe(true);
  });

  it('takes a mask as well as a list of cells', () => {
    const routing = makeRouting(ground(...valley));
    const mask = new Uint8Array(84);
    mask[44] = 1;
    const byMask = contributingShare(routing, mask);
    expect(contributingShare(routing, [44])).toEqual(byMask);
    expect(byMask.share[44]).toBe(1);
  });
});

describe('flow path', () => {
  it('crosses a low spot to its pass and names it', () => {
    const terrain = ground([9, 9, 9, 9, 9, 9], [9, 8, 3, 4, 7, 2], [9, 9, 9, 9, 9, 9]);
    const { cells, points, ponds } = flowPath(makeRouting(terrain), 7);
    expect([...cells]).toEqual([7, 8, 9, 10, 11]);
    expect([...points.subarray(0, 2)]).toEqual([1.5, 1.5]);
    expect(ponds).toEqual([{ node: 1, first: 1, last: 2 }]);
  });

  it('is one point at the edge, and none without data', () => {
    const routing = makeRouting(ground([9, Number.NaN], [9, 9]));
    expect([...flowPath(routing, 0).cells]).toEqual([0]);
    expect(flowPath(routing, 1).points).toHaveLength(0);
  });
});
