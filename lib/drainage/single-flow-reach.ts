import { neighbourOffsets } from './neighbours';
import type { BareTerrain } from './terrain';

/** Water that covers at least this part of a target is one with it. Our choice, no source. */
export const drownedShare = 0.5;

/** Whose water reaches a target. Arrays belong to the terrain's workspace. */
export interface Reach {
  /** 1 for each catchment all of whose water arrives; `pits + 1` elements. */
  readonly whole: Uint8Array;
  /** Cells whose water arrives before it comes to their pit, some of them in whole catchments. */
  readonly cells: Int32Array;
  /** 1 for those cells. */
  readonly isAbove: Uint8Array;
}

/**
 * Whose water reaches a target by single flow while every low spot is full.
 *
 * From a cell water falls to its pit; what comes to a pit leaves over the spill point of the outermost low spot that the
 * pit is a part of, and falls on from there. All that comes to a low spot that covers the target has reached it.
 *
 * Answered by catchment wherever water comes by way of a pit, so that for many surfaces in turn the cost is that of
 * the low spots and not of the cells; shares by multiple flow would need an order of all cells each time.
 *
 * @param target - cell indices.
 * Cost: O(pits), and the cells above the target in its own catchments.
 */
export function singleFlowReach(terrain: BareTerrain, target: ArrayLike<number>): Reach {
  const { receiver, catchment, tree, width, workspace } = terrain;
  const { root } = tree;
  const offsets = neighbourOffsets(width);
  const isAbove = workspace.uint8('reach above', receiver.length).fill(0);
  const found = workspace.int32('reach found', receiver.length);
  const arrives = workspace.uint8('reach arrives', tree.nodes).fill(unknown);
  markDrowning(terrain, target, arrives);

  let count = 0;
  const take = (cell: number): void => {
    if (isAbove[cell] === 1) return;
    isAbove[cell] = 1;
    found[count++] = cell;
  };
  for (let at = 0; at < target.length; at++) {
    if (arrives[root[catchment[target[at]]]] !== yes) take(target[at]);
  }
  for (let walked = 0; walked < count; walked++) {
    const cell = found[walked];
    // A neighbour in direction d sends its water here when its own direction is the opposite one.
    for (let d = 0; d < 8; d++) {
      const from = cell + offsets[d];
      if (receiver[from] === ((d + 4) & 7)) take(from);
    }
  }

  followSpills(terrain, isAbove, arrives);
  const whole = workspace.uint8('reach whole', tree.pits + 1);
  whole[0] = 0;
  for (let pit = 1; pit <= tree.pits; pit++) whole[pit] = arrives[root[pit]] === yes ? 1 : 0;
  return { whole, cells: found.subarray(0, count), isAbove };
}

const unknown = 0;
const yes = 1;
const no = 2;

/** Marks the outermost low spots that cover the target when full. */
function markDrowning(terrain: BareTerrain, target: ArrayLike<number>, arrives: Uint8Array): void {
  const { z, catchment, fillLevel, tree, workspace } = terrain;
  const covered = workspace.int32('reach covered', tree.nodes).fill(0);
  for (let at = 0; at < target.length; at++) {
    const cell = target[at];
    const pit = catchment[cell];
    if (!(z[cell] < fillLevel[pit])) continue;
    const root = tree.root[pit];
    if (++covered[root] >= drownedShare * target.length) arrives[root] = yes;
  }
}

/** Follows what each outermost low spot spills, from one to the next, until it arrives or leaves the map. */
function followSpills({ tree }: BareTerrain, isAbove: Uint8Array, arrives: Uint8Array): void {
  const { nodes, root, destination, spillTo } = tree;
  for (let start = 1; start < nodes; start++) {
    if (root[start] !== start) continue;
    // Down to the first of which it is known, or whose own spill tells.
    let end = start;
    let answer = arrives[end];
    while (answer === unknown) {
      if (isAbove[spillTo[end]] === 1) {
        arrives[end] = answer = yes;
      } else {
        end = root[destination[end]];
        answer = end === 0 ? no : arrives[end];
      }
    }
    for (let node = start; node !== end; node = root[destination[node]]) arrives[node] = answer;
  }
}
