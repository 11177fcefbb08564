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
  const order = workspace.int32('routing order', size);
  countDonors(filled, directions, width, donors);
  const done = orderCells(filled, directions, width, donors, order);
  assert(done === size - terrain.outside, 'water on a filled surface must not run in a loop');
  return { terrain, directions, upstreamFirst: order.subarray(0, done) };
}

/** Counts the cells that give water to each cell; outside cells are marked as done. */
function countDonors(
  filled: Float32Array,
  directions: Uint8Array,
  width: number,
  donors: Uint8Array,
): void {
  const bits = new Int32Array(filled.buffer, filled.byteOffset, filled.length);
  const offsets = neighbourOffsets(width);
  donors.fill(0);
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
    if ((e | se | s | sw | w | nw | n | ne) === 0) donors[i + offsets[code]]++;
  }
  for (let i = 0; i < filled.length; i++) if (directions[i] === NONE) donors[i] = DONE;
}

/** Puts cells in order; those ready but not yet placed wait at the end of `order`, which never runs out. */
function orderCells(
  filled: Float32Array,
  directions: Uint8Array,
  width: number,
  donors: Uint8Array,
  order: Int32Array,
): number {
  const offsets = neighbourOffsets(width);
  const size = filled.length;
  let done = 0;
  for (let start = 0; start < size; start++) {
    if (donors[start] !== 0) continue;
    let top = size;
    order[--top] = start;
    donors[start] = DONE;
    while (top < size) {
      const cell = order[top++];
      order[done++] = cell;
      const code = directions[cell];
      if (code >= NONE) continue;
      const own = filled[cell];
      let given = 0;
      for (let d = 0; d < 8; d++) {
        const next = cell + offsets[d];
        if (!(filled[next] < own)) continue;
        given++;
        if (--donors[next] !== 0) continue;
        donors[next] = DONE;
        order[--top] = next;
      }
      if (given > 0) continue;
      const next = cell + offsets[code];
      if (--donors[next] !== 0) continue;
      donors[next] = DONE;
      order[--top] = next;
    }
  }
  return done;
}
