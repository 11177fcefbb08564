import { neighbourOffsets } from './neighbours';
import type { Terrain } from './terrain';

/** A full low spot that covers at least this part of a target is one water with it. A choice, no source. */
const drownedShare = 0.5;

/**
 * Which cells' water reaches a target by single flow while every low spot is full.
 *
 * From a cell water falls to its pit; what comes to a pit leaves over the spill point of the outermost low spot that the
 * pit is a part of, and falls on from there. All that comes to a low spot that covers the target has reached it.
 *
 * Looked for from the target upwards, so that for many surfaces in turn the cost is that of the ground that drains there;
 * shares by multiple flow would need an order of all cells each time.
 *
 * @param target - cell indices.
 * @param out - receives 1 for each cell whose water reaches the target, else 0.
 * @returns the cells found, in the terrain's workspace.
 * Cost: O(cells found), and O(pits) for each low spot in the longest chain that spills towards the target.
 */
export function singleFlowReach(
  terrain: Terrain,
  target: ArrayLike<number>,
  out: Uint8Array,
): Int32Array {
  const { receiver, tree, width, workspace } = terrain;
  const { pitCells, root, pitStart, pitEnd, pitOrder, spillTo } = tree;
  const offsets = neighbourOffsets(width);
  const found = workspace.int32('reach found', out.length);
  let count = 0;
  let walked = 0;
  const take = (cell: number): void => {
    if (out[cell] === 1) return;
    out[cell] = 1;
    found[count++] = cell;
  };
  const takePits = (node: number): void => {
    for (let at = pitStart[node]; at < pitEnd[node]; at++) take(pitCells[pitOrder[at]]);
  };

  out.fill(0);
  for (let at = 0; at < target.length; at++) take(target[at]);
  // 1 for outermost low spots whose water is known to arrive.
  const arrives = drowningRoots(terrain, target);
  for (let node = 1; node < tree.nodes; node++) if (arrives[node] === 1) takePits(node);
  for (;;) {
    while (walked < count) {
      const cell = found[walked++];
      // A neighbour in direction d sends its water here when its own direction is the opposite one.
      for (let d = 0; d < 8; d++) {
        const from = cell + offsets[d];
        if (receiver[from] === ((d + 4) & 7)) take(from);
      }
    }
    let more = false;
    for (let node = 1; node < tree.nodes; node++) {
      if (root[node] !== node || arrives[node] === 1 || out[spillTo[node]] !== 1) continue;
      arrives[node] = 1;
      takePits(node);
      more = true;
    }
    if (!more) return found.subarray(0, count);
  }
}

/** 1 for the outermost low spots that cover the target when full, by node. */
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
