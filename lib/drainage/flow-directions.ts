import { assert } from '../errors';
import { INVERSE_STEP, NONE, neighbourOffsets } from './neighbours';
import { steepestDescent } from './steepest-descent';
import type { Terrain } from './terrain';

/**
 * Single-flow direction of every cell on the filled surface: no pits, every path leaves the map.
 *
 * Steepest descent where there is a lower neighbour. On flats (filled low spots, plateaus) water
 * goes towards the lower edge, and among equal ways away from higher ground, so that paths run
 * along the middle rather than hug a shore. Both gradients are whole numbers of cells: no height is
 * changed.
 *
 * @returns direction codes (see neighbours.ts), `NONE` only where there is no data, `LEAVES` on the
 *   border of the map and of the data. Belongs to the terrain's workspace.
 * Cost: O(n).
 * Source: Garbrecht and Martz (1997), Journal of Hydrology 193 (from memory); Barnes, Lehman and
 *   Mulla (2014), arXiv 1511.04433 (abstract read).
 */
export function flowDirections(terrain: Terrain): Uint8Array {
  const { filled, width, height, workspace } = terrain;
  const size = filled.length;
  const directions = workspace.uint8('flow directions', size);
  const lower = workspace.uint8('cell bytes', size);
  const flatIndex = workspace.int32('cell numbers', size);
  const cellLists = workspace.int32('cell lists', size);
  steepestDescent(filled, width, height, workspace, directions, lower, flatIndex, cellLists);
  const flats = findFlats(filled, directions, width, cellLists, terrain.outside);
  if (flats > 0) resolveFlats(terrain, directions, cellLists.subarray(0, flats), flatIndex);
  return directions;
}

/** Lists the cells whose receiver is not lower, and takes their direction away. */
function findFlats(
  filled: Float32Array,
  directions: Uint8Array,
  width: number,
  flatCells: Int32Array,
  outside: number,
): number {
  const offsets = neighbourOffsets(width);
  let count = 0;
  for (let i = 0; i < filled.length; i++) {
    const code = directions[i];
    if (code > NONE || filled[i + offsets[code]] < filled[i]) continue;
    if (outside > 0 && Number.isNaN(filled[i])) continue;
    flatCells[count++] = i;
  }
  for (let at = 0; at < count; at++) directions[flatCells[at]] = NONE;
  return count;
}

function resolveFlats(
  terrain: Terrain,
  directions: Uint8Array,
  flatCells: Int32Array,
  flatIndex: Int32Array,
): void {
  const { filled, width, workspace } = terrain;
  const offsets = neighbourOffsets(width);
  const count = flatCells.length;
  const towards = workspace.int32('flat towards', count).fill(0);
  const away = workspace.int32('flat away', count).fill(0);
  const queue = workspace.int32('flat queue', count);
  const chosen = workspace.uint8('flat chosen', count).fill(NONE);

  // A flat cell is no border cell and has no neighbour without data: all eight exist.
  let waiting = 0;
  for (let at = 0; at < count; at++) {
    const cell = flatCells[at];
    flatIndex[cell] = at;
    let exit = NONE;
    for (let d = 0; d < 8; d++) {
      const next = cell + offsets[d];
      if (filled[next] !== filled[cell] || directions[next] === NONE) continue;
      if (exit === NONE || (exit % 2 === 1 && d % 2 === 0)) exit = d;
    }
    if (exit === NONE) continue;
    chosen[at] = exit;
    towards[at] = 1;
    queue[waiting++] = at;
  }
  const reached = spread(
    queue,
    waiting,
    towards,
    flatCells,
    flatIndex,
    directions,
    filled,
    offsets,
  );
  assert(reached === count, 'every flat of a filled surface has a lower edge');

  waiting = 0;
  for (let at = 0; at < count; at++) {
    const cell = flatCells[at];
    for (let d = 0; d < 8; d++) {
      if (!(filled[cell + offsets[d]] > filled[cell])) continue;
      away[at] = 1;
      queue[waiting++] = at;
      break;
    }
  }
  spread(queue, waiting, away, flatCells, flatIndex, directions, filled, offsets);

  // One step towards the exit outweighs any difference in distance from higher ground, which is one at most.
  for (let at = 0; at < count; at++) {
    if (chosen[at] !== NONE) continue;
    const cell = flatCells[at];
    const own = 2 * towards[at] - away[at];
    let best = 0;
    for (let d = 0; d < 8; d++) {
      const next = cell + offsets[d];
      if (filled[next] !== filled[cell] || directions[next] !== NONE) continue;
      const other = flatIndex[next];
      const fall = (own - (2 * towards[other] - away[other])) * INVERSE_STEP[d];
      if (fall > best) {
        best = fall;
        chosen[at] = d;
      }
    }
  }
  for (let at = 0; at < count; at++) directions[flatCells[at]] = chosen[at];
}

/** Counts steps outwards from the flat cells in the queue, each 1 already. Returns how many were reached. */
function spread(
  queue: Int32Array,
  waiting: number,
  steps: Int32Array,
  flatCells: Int32Array,
  flatIndex: Int32Array,
  directions: Uint8Array,
  filled: Float32Array,
  offsets: Int32Array,
): number {
  let end = waiting;
  for (let begin = 0; begin < end; begin++) {
    const at = queue[begin];
    const cell = flatCells[at];
    for (let d = 0; d < 8; d++) {
      const next = cell + offsets[d];
      if (directions[next] !== NONE || filled[next] !== filled[cell]) continue;
      const other = flatIndex[next];
      if (steps[other] !== 0) continue;
      steps[other] = steps[at] + 1;
      queue[end++] = other;
    }
  }
  return end;
}
