import { assert } from '../../errors';
import { COLUMN_STEP, LEAVES, NONE, ROW_STEP } from './neighbours';
import type { Routing } from './routing';

/** Where water from one cell goes, for drawing. */
export interface FlowPath {
  /** Column and row alternately, in cells from the grid's outer north-west corner (a cell's centre is at a half). */
  readonly points: Float64Array;
  /** The cell that each point lies in. */
  readonly cells: Int32Array;
  /** Stretches that cross a low spot (over its water, were it full), in order of flow. */
  readonly ponds: readonly PathPond[];
}

export interface PathPond {
  /** Root node of the low spot in the terrain's tree. */
  readonly node: number;
  /** First and last point in the low spot, as indices of `cells`. */
  readonly first: number;
  readonly last: number;
}

/**
 * The way of water from a cell over the filled surface to the edge of the map.
 *
 * Each step goes to one of the two neighbours that bound the facet of steepest descent. A running
 * remainder decides between the straight and the diagonal one, so that the line keeps the facet's
 * direction (on a plane it does not drift at all), and the drawn point is the cell's centre moved by
 * that remainder. Over flats, low spots among them, it follows the single-flow directions to the
 * way out. Every step goes down, or along a flat towards its exit, so there are no loops.
 *
 * @returns at least one point; none of `points` when the cell holds no data.
 * Cost: O(length).
 */
export function flowPath(routing: Routing, start: number): FlowPath {
  const { terrain, directions } = routing;
  const { filled, z, width, catchment, tree } = terrain;
  const points: number[] = [];
  const cells: number[] = [];
  const ponds: { node: number; first: number; last: number }[] = [];
  if (directions[start] === NONE) {
    return { points: Float64Array.from(points), cells: Int32Array.from(cells), ponds };
  }
  let row = Math.floor(start / width);
  let column = start - row * width;
  let right = 0;
  let down = 0;
  for (;;) {
    const cell = row * width + column;
    assert(cells.length < filled.length, 'a flow path must end');
    if (filled[cell] > z[cell]) {
      const node = tree.root[catchment[cell]];
      const pond = ponds.at(-1);
      if (pond?.node === node && pond.last === cells.length - 1) pond.last++;
      else ponds.push({ node, first: cells.length, last: cells.length });
    }
    points.push(column + 0.5 + right, row + 0.5 + down);
    cells.push(cell);
    const code = directions[cell];
    if (code === LEAVES) break;
    const facet = steepestFacet(filled, width, cell);
    const taken = facet === undefined ? code : along(facet, filled, width, cell, right, down);
    if (facet === undefined) {
      // over a flat the remainder dies away
      right *= 0.5;
      down *= 0.5;
    } else {
      right = clamp(right + facet.right - COLUMN_STEP[taken]);
      down = clamp(down + facet.down - ROW_STEP[taken]);
    }
    column += COLUMN_STEP[taken];
    row += ROW_STEP[taken];
  }
  return { points: Float64Array.from(points), cells: Int32Array.from(cells), ponds };
}

interface Facet {
  /** The straight and the diagonal neighbour that bound it. */
  readonly straight: number;
  readonly diagonal: number;
  /** Way of the water to the line between those two, in columns and rows. */
  readonly right: number;
  readonly down: number;
}

/**
 * The steepest of the eight triangles between a cell's centre and two adjoining neighbours'
 * centres; undefined when none falls. With drops `s1` to the straight neighbour and `s2` on from
 * there to the diagonal one, water reaches the line between both at `s2 / s1` of the way.
 */
function steepestFacet(filled: Float32Array, width: number, cell: number): Facet | undefined {
  const h = filled[cell];
  let steepest = 0;
  let found: Facet | undefined;
  for (let straight = 0; straight < 8; straight += 2) {
    const right = COLUMN_STEP[straight];
    const down = ROW_STEP[straight];
    const straightHeight = filled[cell + down * width + right];
    for (const turn of [1, 7]) {
      const diagonal = (straight + turn) % 8;
      const acrossRight = COLUMN_STEP[diagonal] - right;
      const acrossDown = ROW_STEP[diagonal] - down;
      const diagonalHeight = filled[cell + ROW_STEP[diagonal] * width + COLUMN_STEP[diagonal]];
      const s1 = h - straightHeight;
      const s2 = straightHeight - diagonalHeight;
      let slope: number;
      let part: number;
      if (s2 <= 0) {
        slope = s1;
        part = 0;
      } else if (s2 >= s1) {
        slope = (h - diagonalHeight) * Math.SQRT1_2;
        part = 1;
      } else {
        slope = Math.sqrt(s1 * s1 + s2 * s2);
        part = s2 / s1;
      }
      if (slope > steepest) {
        steepest = slope;
        found = {
          straight,
          diagonal,
          right: right + part * acrossRight,
          down: down + part * acrossDown,
        };
      }
    }
  }
  return found;
}

/** Which of the facet's two neighbours lies nearer to where the water is going, among those that are lower. */
function along(
  facet: Facet,
  filled: Float32Array,
  width: number,
  cell: number,
  right: number,
  down: number,
): number {
  const { straight, diagonal } = facet;
  // the diagonal one falls wherever the facet leans towards it; the straight one need not
  const straightHeight = filled[cell + ROW_STEP[straight] * width + COLUMN_STEP[straight]];
  if (straightHeight >= filled[cell]) return diagonal;
  const acrossRight = COLUMN_STEP[diagonal] - COLUMN_STEP[straight];
  const acrossDown = ROW_STEP[diagonal] - ROW_STEP[straight];
  const across =
    (right + facet.right - COLUMN_STEP[straight]) * acrossRight +
    (down + facet.down - ROW_STEP[straight]) * acrossDown;
  return across > 0.5 ? diagonal : straight;
}

function clamp(remainder: number): number {
  return Math.min(0.5, Math.max(-0.5, remainder));
}
