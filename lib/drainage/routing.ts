import { assert } from '../errors';
import { flowDirections } from './flow-directions';
import { NONE, neighbourOffsets } from './neighbours';
import type { Terrain } from './terrain';

const DONE = 255;

/**
 * How water spreads over a terrain's filled surface. Arrays belong to the terrain's workspace.
 *
 * Multiple flow with exponent 1: a cell's water is shared among its lower neighbours in proportion
 * to slope. Where no neighbour is lower (flats), and only there, it takes the single direction.
 */
export interface Routing {
  readonly terrain: Terrain;
  /** Single-flow directions on the filled surface. */
  readonly directions: Uint8Array;
  /** All cells with data; each comes before every cell that it gives water to, by multiple or by single flow. */
  readonly upstreamFirst: Int32Array;
}

/**
 * Prepares routing over a terrain: the single-flow directions and an order of cells, computed once
 * and good for any number of sweeps.
 *
 * Cost: O(n), the order about 20 passes over the grid.
 */
export function makeRouting(terrain: Terrain): Routing {
  const directions = flowDirections(terrain);
  const { filled, width, workspace } = terrain;
  const size = filled.length;
  const donors = workspace.uint8('cell bytes', size);
  // The directions are done with their numbers of cells: that buffer holds the masks.
  const numbers = workspace.int32('cell numbers', size);
  const lower = new Uint8Array(numbers.buffer, numbers.byteOffset, size);
  const order = workspace.int32('routing order', size);
  countDonors(filled, directions, width, donors, lower);
  const done = orderCells(directions, width, donors, lower, order);
  assert(done === size - terrain.outside, 'water on a filled surface must not run in a loop');
  return { terrain, directions, upstreamFirst: order.subarray(0, done) };
}

/**
 * Counts the cells that give water to each cell; outside cells are marked as done. `lower` receives
 * the masks of lower neighbours, bit `d` for direction `d`, 0 for cells that leave the map.
 */
function countDonors(
  filled: Float32Array,
  directions: Uint8Array,
  width: number,
  donors: Uint8Array,
  lower: Uint8Array,
): void {
  const bits = new Int32Array(filled.buffer, filled.byteOffset, filled.length);
  const offsets = neighbourOffsets(width);
  donors.fill(0);
  lower.fill(0);
  for (let i = 0; i < filled.length; i++) {
    const code = directions[i];
    if (code >= NONE) continue;
    // The signs of differences of positive floats' bits count lower neighbours without a branch.
    const own = bits[i];
    const e = (bits[i + 1] - own) >>> 31;
    const se = (bits[i + width + 1] - own) >>> 31;
    const s = (bits[i + width] - own) >>> 31;
    const sw = (bits[i + width - 1] - own) >>> 31;
    const w = (bits[i - 1] - own) >>> 31;
    const nw = (bits[i - width - 1] - own) >>> 31;
    const n = (bits[i - width] - own) >>> 31;
    const ne = (bits[i - width + 1] - own) >>> 31;
    donors[i + 1] += e;
    donors[i + width + 1] += se;
    donors[i + width] += s;
    donors[i + width - 1] += sw;
    donors[i - 1] += w;
    donors[i - width - 1] += nw;
    donors[i - width] += n;
    donors[i - width + 1] += ne;
    const mask = e | (se << 1) | (s << 2) | (sw << 3) | (w << 4) | (nw << 5) | (n << 6) | (ne << 7);
    lower[i] = mask;
    if (mask === 0) donors[i + offsets[code]]++;
  }
  for (let i = 0; i < filled.length; i++) if (directions[i] === NONE) donors[i] = DONE;
}

/** Puts cells in order; those ready but not yet placed wait at the end of `order`, which never runs out. */
function orderCells(
  directions: Uint8Array,
  width: number,
  donors: Uint8Array,
  lower: Uint8Array,
  order: Int32Array,
): number {
  const offsets = neighbourOffsets(width);
  const size = directions.length;
  let done = 0;
  for (let start = 0; start < size; start++) {
    if (donors[start] !== 0) continue;
    let top = size;
    order[--top] = start;
    donors[start] = DONE;
    while (top < size) {
      const cell = order[top++];
      order[done++] = cell;
      let mask = lower[cell];
      if (mask === 0) {
        const code = directions[cell];
        if (code >= NONE) continue;
        mask = 1 << code;
      }
      do {
        const next = cell + offsets[31 - Math.clz32(mask & -mask)];
        mask &= mask - 1;
        // Without a branch, which would be guessed wrong too often: a cell whose last donor this
        // was waits and, as 0 - 1 is DONE in a byte, is marked; any other is overwritten.
        const left = donors[next] - 1;
        const isReady = (left - 1) >>> 31;
        donors[next] = left - isReady;
        order[top - 1] = next;
        top -= isReady;
      } while (mask !== 0);
    }
  }
  return done;
}
