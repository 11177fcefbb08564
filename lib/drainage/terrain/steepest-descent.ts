import { expectOf } from '../../errors';
import { LEAVES, NONE } from './neighbours';
import type { Workspace } from './workspace';

/** Bit pattern of 1 as Float32: the least height a data cell may have. */
const ONE_BITS = 0x3f800000;
/** Bit pattern of the greatest finite Float32. */
const LAST_FINITE_BITS = 0x7f7fffff;
/** Heights must stay below 2^64 so that a key and two spare bits fit 32 bits. */
const LIMIT_BITS = ONE_BITS + 0x1fffffff;

/**
 * For every set of lower neighbours (one bit for each direction): the groups it falls into, where
 * neighbours that touch each other form one group. `groupOf[mask * 8 + direction]` is the mask of
 * the direction's group, 0 where the direction is not in the mask.
 */
export const groupOf: Uint8Array = groupTable();

/** How many groups each mask has. */
export const groupCount: Uint8Array = Uint8Array.from({ length: 256 }, (_, mask) => {
  let count = 0;
  for (let rest = mask; rest !== 0; count++) rest &= ~groupOf[mask * 8 + 31 - Math.clz32(rest)];
  return count;
});

/** 1 for the masks that have two groups or more: such a cell can be a pass. */
const isPass: Uint8Array = groupCount.map((count) => (count > 1 ? 1 : 0));

function groupTable(): Uint8Array {
  const table = new Uint8Array(256 * 8);
  for (let mask = 0; mask < 256; mask++) {
    for (let start = 0; start < 8; start++) {
      if (((mask >> start) & 1) === 0) continue;
      let group = 1 << start;
      for (let grown = 0; grown !== group;) {
        grown = group;
        for (let direction = 0; direction < 8; direction++) {
          if (((group >> direction) & 1) === 0) continue;
          // Neighbours in sequence touch; so do two of the four straight ones, corner to corner.
          const reach = direction % 2 === 0 ? [1, 2, 6, 7] : [1, 7];
          for (const step of reach) group |= mask & (1 << ((direction + step) % 8));
        }
      }
      table[mask * 8 + start] = group;
    }
  }
  return table;
}

/** What {@link steepestDescent} counts on its way. */
export interface DescentCounts {
  /** Pits; their cells stand in `cellLists`, the first pit last. */
  pits: number;
  /** Cells that can be a pass; they stand at the beginning of `cellLists`, in ascending order. */
  passCells: number;
  /** Cells without data. */
  outside: number;
}

/**
 * Finds for each cell the neighbour of steepest descent and the set of its lower neighbours.
 *
 * A neighbour is lower when its height is less, or equal and its index smaller: a total order, so
 * that receivers never form a loop and a plateau has one pit. Among strictly lower neighbours the
 * greatest drop per distance wins (a diagonal step is longer by the square root of 2). Border cells
 * and cells beside one without data leave the map.
 *
 * Heights are compared as integers without branches: the bits of positive Float32 values sort like
 * the values, and two spare bits beneath carry the direction.
 *
 * @param z - heights, at least 1; `NaN` where there is no data.
 * @param receiver - receives the direction codes.
 * @param lower - receives the masks of lower neighbours, bit `d` for direction `d`; a cell without
 *   data counts as lower than all.
 * @param label - receives 0 for cells that leave the map or hold no data, the pit's number (1, 2, …
 *   in index order) for pits, -1 for all others.
 * @param cellLists - receives pass cells from its beginning and pits from its end (they never meet,
 *   since a pit has no lower neighbour).
 * Cost: O(n).
 */
export function steepestDescent(
  z: Float32Array,
  width: number,
  height: number,
  workspace: Workspace,
  receiver: Uint8Array,
  lower: Uint8Array,
  label: Int32Array,
  cellLists: Int32Array,
): DescentCounts {
  const bits = new Int32Array(z.buffer, z.byteOffset, z.length);
  let up = workspace.int32('descent row a', width + 2).fill(0);
  let middle = workspace.int32('descent row b', width + 2).fill(0);
  let down = workspace.int32('descent row c', width + 2).fill(0);
  const excess = steeperRow(workspace, width);
  const cells = { z, width, excess, receiver, lower, label, lists: cellLists };
  const counts = { pits: 0, passCells: 0, outside: 0 };
  label.fill(-1);
  let bad = sortableRow(bits, 0, width, middle);
  for (let row = 0; row < height; row++) {
    if (row + 1 < height) bad |= sortableRow(bits, (row + 1) * width, width, down);
    else down.fill(0);
    descendRow(cells, row * width, up, middle, down, counts);
    const free = up;
    up = middle;
    middle = down;
    down = free;
  }
  expectOf(bad >= 0, {
    code: 'heights-out-of-range',
    where: 'grid',
    problem: 'some heights are below 1 or not below 2^64 above its datum',
    remedy: 'give it a datum (datumM) at least 1 m below its lowest cell',
  });
  return counts;
}

/**
 * Turns a row of heights into integers that sort alike, four apart at least, 0 for no data. The
 * row starts at element 1. Returns a negative number when a height is out of range.
 */
function sortableRow(bits: Int32Array, start: number, width: number, row: Int32Array): number {
  let bad = 0;
  for (let column = 0; column < width; column++) {
    const b = bits[start + column];
    const outside = (LAST_FINITE_BITS - (b & 0x7fffffff)) >> 31;
    row[column + 1] = ((b - ONE_BITS + 1) << 2) & ~outside;
    bad |= (b | (b - ONE_BITS) | (LIMIT_BITS - b)) & ~outside;
  }
  return bad;
}

/** A row's drop to the straight neighbour less that to the diagonal one, as floats and as their bits. */
interface SteeperRow {
  readonly straightBits: Int32Array;
  readonly straight: Float32Array;
  readonly diagonalBits: Int32Array;
  readonly diagonal: Float32Array;
  readonly excessBits: Int32Array;
  readonly excess: Float32Array;
}

function steeperRow(workspace: Workspace, width: number): SteeperRow {
  const straightBits = workspace.int32('descent straight', width);
  const diagonalBits = workspace.int32('descent diagonal', width);
  const excessBits = workspace.int32('descent excess', width);
  const floats = (bits: Int32Array) => new Float32Array(bits.buffer, bits.byteOffset, width);
  return {
    straightBits,
    straight: floats(straightBits),
    diagonalBits,
    diagonal: floats(diagonalBits),
    excessBits,
    excess: floats(excessBits),
  };
}

/** What the cells have and receive, as {@link steepestDescent} takes it. */
interface DescentCells {
  readonly z: Float32Array;
  readonly width: number;
  readonly excess: SteeperRow;
  readonly receiver: Uint8Array;
  readonly lower: Uint8Array;
  readonly label: Int32Array;
  readonly lists: Int32Array;
}

function descendRow(
  { z, width, excess: row, receiver, lower, label, lists }: DescentCells,
  base: number,
  up: Int32Array,
  middle: Int32Array,
  down: Int32Array,
  counts: DescentCounts,
): void {
  let { passCells, pits, outside } = counts;
  const { straightBits, straight, diagonalBits, diagonal, excessBits, excess } = row;
  const last = lists.length - 1;
  // nw n ne
  // w  k  e     slides eastwards; three loads for each cell
  // sw s se
  let nw = up[0];
  let n = up[1];
  let w = middle[0];
  let k = middle[1];
  let sw = down[0];
  let s = down[1];
  for (let column = 0; column < width; column++) {
    const ne = up[column + 2];
    const e = middle[column + 2];
    const se = down[column + 2];
    const i = base + column;

    // lowest of the four straight and of the four diagonal neighbours; smaller indices come first in a tie
    const best = lowestOf(w, n, e, s);
    const bestDiagonal = lowestOf(nw, ne, sw, se);

    // the steeper of the two: the sign of a difference of floats, read as an integer
    straightBits[column] = (best >> 2) + (ONE_BITS - 1);
    diagonalBits[column] = (bestDiagonal >> 2) + (ONE_BITS - 1);
    const height = z[i];
    excess[column] = height - straight[column] - (height - diagonal[column]) * Math.SQRT1_2;
    const diagonalWins = excessBits[column] >> 31;
    const code = (0x2064 >> ((best & 3) << 2)) & 15;
    const diagonalCode = (0x1375 >> ((bestDiagonal & 3) << 2)) & 15;

    const mask = lowerMask(k, e, se, s, sw, w, nw, n, ne);

    const step = bestDiagonal - best;
    const lowest = best + (step & (step >> 31));
    if (k === 0) {
      receiver[i] = NONE;
      lower[i] = 0;
      label[i] = 0;
      outside++;
    } else {
      lower[i] = mask;
      lists[passCells] = i;
      passCells += isPass[mask];
      if ((lowest - 4) >>> 0 < (k - 4) >>> 0) {
        receiver[i] = code ^ ((code ^ diagonalCode) & diagonalWins);
      } else if (lowest < 4) {
        receiver[i] = LEAVES;
        label[i] = 0;
      } else if (mask === 0) {
        receiver[i] = NONE;
        lists[last - pits] = i;
        label[i] = ++pits;
      } else {
        // on a plateau: an equal neighbour of smaller index, straight before diagonal
        receiver[i] = (mask & 16) !== 0 ? 4 : (mask & 64) !== 0 ? 6 : (mask & 32) !== 0 ? 5 : 7;
      }
    }
    nw = n;
    n = ne;
    w = k;
    k = e;
    sw = s;
    s = se;
  }
  counts.passCells = passCells;
  counts.pits = pits;
  counts.outside = outside;
}

/** The lowest of four; smaller indices come first in a tie. */
function lowestOf(first: number, second: number, third: number, fourth: number): number {
  let best = first;
  let step = (second | 1) - best;
  best += step & (step >> 31);
  step = (third | 2) - best;
  best += step & (step >> 31);
  step = (fourth | 3) - best;
  return best + (step & (step >> 31));
}

/** The neighbours that are lower than a cell, or as high and of smaller index; a bit for each. */
function lowerMask(
  k: number,
  e: number,
  se: number,
  s: number,
  sw: number,
  w: number,
  nw: number,
  n: number,
  ne: number,
): number {
  return (
    ((e - k) >>> 31) |
    (((se - k) >> 31) & 2) |
    (((s - k) >> 31) & 4) |
    (((sw - k) >> 31) & 8) |
    (((w - k - 1) >> 31) & 16) |
    (((nw - k - 1) >> 31) & 32) |
    (((n - k - 1) >> 31) & 64) |
    (((ne - k - 1) >> 31) & 128)
  );
}
