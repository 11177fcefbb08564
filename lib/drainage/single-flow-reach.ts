import { NONE, neighbourOffsets } from './neighbours';
import type { Terrain } from './terrain';

const unknown = 0;
const misses = 1;
const hits = 2;

/** A full low spot that covers at least this part of a target is one water with it. A choice, no source. */
const drownedShare = 0.5;

/**
 * Which cells' water reaches a target by single flow while every low spot is full: for each cell 1 or 0.
 *
 * From a cell water falls to its pit; what comes to a pit leaves over the spill point of the outermost low spot that the
 * pit is a part of, and falls on from there. A target that such a low spot covers has reached all that comes to it.
 *
 * For many surfaces in turn: about a tenth of the cost of shares by multiple flow, which need an order of all cells.
 *
 * @param target - cell indices.
 * @param out - receives the answer, one byte a cell.
 * Cost: O(n); every cell is walked over twice at most.
 */
export function singleFlowReach(
  terrain: Terrain,
  target: ArrayLike<number>,
  out: Uint8Array,
): void {
  const { receiver, catchment, tree, width, workspace } = terrain;
  const offsets = neighbourOffsets(width);
  const path = workspace.int32('reach path', out.length);
  const drowns = drowningRoots(terrain, target);
  out.fill(unknown);
  for (let at = 0; at < target.length; at++) out[target[at]] = hits;
  for (let start = 0; start < out.length; start++) {
    if (out[start] !== unknown) continue;
    let length = 0;
    let cell = start;
    let answer = misses;
    for (;;) {
      if (out[cell] !== unknown) {
        answer = out[cell];
        break;
      }
      path[length++] = cell;
      const code = receiver[cell];
      if (code < NONE) {
        cell += offsets[code];
        continue;
      }
      const pit = catchment[cell];
      if (pit === 0) break;
      const root = tree.root[pit];
      if (drowns[root] === 1) {
        answer = hits;
        break;
      }
      cell = tree.spillTo[root];
    }
    for (let at = 0; at < length; at++) out[path[at]] = answer;
  }
  for (let cell = 0; cell < out.length; cell++) out[cell] >>= 1;
}

/** 1 for the outermost low spots that cover the target when full. */
function drowningRoots(terrain: Terrain, target: ArrayLike<number>): Uint8Array {
  const { z, catchment, fillLevel, tree, workspace } = terrain;
  const covered = workspace.int32('reach covered', tree.nodes).fill(0);
  const drowns = workspace.uint8('reach drowns', tree.nodes).fill(0);
  for (let at = 0; at < target.length; at++) {
    const cell = target[at];
    const pit = catchment[cell];
    if (!(z[cell] < fillLevel[pit])) continue;
    const root = tree.root[pit];
    if (++covered[root] >= drownedShare * target.length) drowns[root] = 1;
  }
  return drowns;
}
