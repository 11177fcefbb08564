import { INVERSE_STEP, NONE, neighbourOffsets } from './neighbours';
import { steepestDescent } from './steepest-descent';
import type { Workspace } from './workspace';

/** A surface that water runs over. */
export interface FlowSurface {
  /** Heights, at least 1; `NaN` for no data. */
  readonly heights: Float32Array;
  readonly width: number;
  readonly height: number;
}

/**
 * Single-flow direction of every cell on a surface. On the filled surface there are no pits, and every path leaves the map.
 *
 * Steepest descent where there is a lower neighbour. On flats (filled low spots, plateaus) water
 * goes towards the lower edge, and among equal ways away from higher ground, so that paths run
 * along the middle rather than hug a shore. Both gradients are whole numbers of cells: no height is
 * changed.
 *
 * @param name - of the buffer in the workspace that receives the answer.
 * @returns direction codes (see neighbours.ts), `LEAVES` on the border of the map and of the data, `NONE` where there is no
 *   data and on flats without a lower edge.
 * Cost: O(n).
 * Source: Garbrecht and Martz (1997), Journal of Hydrology 193 (from memory); Barnes, Lehman and
 *   Mulla (2014), arXiv 1511.04433 (abstract read).
 */
export function flowDirections(
  surface: FlowSurface,
  workspace: Workspace,
  name: string,
): Uint8Array {
  const { heights, width, height } = surface;
  const size = heights.length;
  const directions = workspace.uint8(name, size);
  const lower = workspace.uint8('cell bytes', size);
  const flatIndex = workspace.int32('cell numbers', size);
  const cellLists = workspace.int32('cell lists', size);
  steepestDescent(heights, width, height, workspace, directions, lower, flatIndex, cellLists);
  const flats = findFlats(heights, directions, width, cellLists);
  if (flats > 0) {
    resolveFlats(surface, workspace, directions, cellLists.subarray(0, flats), flatIndex);
  }
  return directions;
}

/** Bit pattern of infinity as Float32: those of `NaN` are greater. */
const INFINITY_BITS = 0x7f800000;

/** Lists the cells whose receiver is not lower, and takes their direction away. */
function findFlats(
  heights: Float32Array,
  directions: Uint8Array,
  width: number,
  flatCells: Int32Array,
): number {
  const bits = new Int32Array(heights.buffer, heights.byteOffset, heights.length);
  const offsets = neighbourOffsets(width);
  let count = 0;
  for (let i = 0; i < bits.length; i++) {
    const own = bits[i];
    const code = directions[i];
    // Positive floats sort like their bits. On rough ground flats come and go too often to branch on.
    const isLower = (bits[i + offsets[code]] - own) >>> 31;
    const leaves = (NONE - code) >>> 31;
    const isOutside = (INFINITY_BITS - (own & 0x7fffffff)) >>> 31;
    flatCells[count] = i;
    count += (isLower | leaves | isOutside) ^ 1;
  }
  for (let at = 0; at < count; at++) directions[flatCells[at]] = NONE;
  return count;
}

function resolveFlats(
  { heights, width }: FlowSurface,
  workspace: Workspace,
  directions: Uint8Array,
  flatCells: Int32Array,
  flatIndex: Int32Array,
): void {
  const bits = new Int32Array(heights.buffer, heights.byteOffset, heights.length);
  const offsets = neighbourOffsets(width);
  const count = flatCells.length;
  const towards = workspace.int32('flat towards', count).fill(0);
  const away = workspace.int32('flat away', count).fill(0);
  // one more than there are cells, for what `spread` writes ahead
  const queue = workspace.int32('flat queue', count + 1);
  const chosen = workspace.uint8('flat chosen', count).fill(NONE);
  // neighbours in the same flat, bit `d` for direction `d`
  const joined = workspace.uint8('flat joined', count);

  // A flat cell is no border cell and has no neighbour without data: all eight exist.
  let waiting = 0;
  for (let at = 0; at < count; at++) {
    const cell = flatCells[at];
    const own = bits[cell];
    flatIndex[cell] = at;
    let level = 0;
    let flat = 0;
    let rise = 0;
    for (let d = 0; d < 8; d++) {
      const next = cell + offsets[d];
      const difference = bits[next] - own;
      level |= (((difference | -difference) >>> 31) ^ 1) << d;
      // NONE, of all codes, differs from itself by nothing
      flat |= (((directions[next] ^ NONE) - 1) >>> 31) << d;
      rise |= -difference >>> 31;
    }
    joined[at] = level & flat;
    away[at] = rise;
    const exits = level & ~flat;
    if (exits === 0) continue;
    chosen[at] = firstOf((exits & STRAIGHT) === 0 ? exits : exits & STRAIGHT);
    towards[at] = 1;
    queue[waiting++] = at;
  }
  spread(queue, waiting, towards, joined, flatCells, flatIndex, offsets);

  waiting = 0;
  for (let at = 0; at < count; at++) {
    queue[waiting] = at;
    waiting += away[at];
  }
  spread(queue, waiting, away, joined, flatCells, flatIndex, offsets);

  // One step towards the exit outweighs any difference in distance from higher ground, which is one at most.
  for (let at = 0; at < count; at++) {
    // a flat without a lower edge keeps what comes to it
    if (chosen[at] !== NONE || towards[at] === 0) continue;
    const cell = flatCells[at];
    const own = 2 * towards[at] - away[at];
    let best = 0;
    for (let rest: number = joined[at]; rest !== 0; rest &= rest - 1) {
      const d = firstOf(rest);
      const other = flatIndex[cell + offsets[d]];
      const fall = (own - (2 * towards[other] - away[other])) * INVERSE_STEP[d];
      if (fall > best) {
        best = fall;
        chosen[at] = d;
      }
    }
  }
  for (let at = 0; at < count; at++) directions[flatCells[at]] = chosen[at];
}

/** The four straight directions in a mask. */
const STRAIGHT = 0b01010101;

/** The first direction in a mask that is not 0. */
function firstOf(mask: number): number {
  return 31 - Math.clz32(mask & -mask);
}

/** Counts steps outwards from the flat cells in the queue, each 1 already. */
function spread(
  queue: Int32Array,
  waiting: number,
  steps: Int32Array,
  joined: Uint8Array,
  flatCells: Int32Array,
  flatIndex: Int32Array,
  offsets: Int32Array,
): void {
  let end = waiting;
  for (let begin = 0; begin < end; begin++) {
    const at = queue[begin];
    const cell = flatCells[at];
    const further = steps[at] + 1;
    for (let rest: number = joined[at]; rest !== 0; rest &= rest - 1) {
      const other = flatIndex[cell + offsets[firstOf(rest)]];
      // without a branch, which would be guessed wrong too often; the next entry overwrites one that is not new
      const known = steps[other];
      const isNew = (known - 1) >>> 31;
      queue[end] = other;
      steps[other] = known + isNew * further;
      end += isNew;
    }
  }
}
