import type { Passes } from './passes';
import type { Workspace } from './workspace';

/**
 * How low spots merge into larger ones as water rises: a forest of binary trees.
 *
 * Nodes are numbered: 0 the outside, 1 to `pits` the low spots of one pit each (the node's number is
 * its catchment's number), then merged low spots. A child's number is always less than its parent's,
 * so an ascending loop sees children first and a descending loop parents first. All arrays have
 * `nodes` elements unless said otherwise.
 */
export interface LowSpotTree {
  readonly pits: number;
  readonly nodes: number;
  /** Cell of each pit; element 0 is -1. `pits + 1` elements. */
  readonly pitCells: Int32Array;
  /** The merged low spot that this one becomes a part of when it is full; 0 for roots. */
  readonly parent: Int32Array;
  /** The two low spots that a merged one is made of; 0 for pits. */
  readonly child0: Int32Array;
  readonly child1: Int32Array;
  /** Height at which the low spot overflows, in the units of `z`. */
  readonly spill: Float32Array;
  /** Last cell on the low spot's own side of the pass it overflows through. */
  readonly spillFrom: Int32Array;
  /** First cell on the other side; single flow leads from it to pit `destination`, or off the map. */
  readonly spillTo: Int32Array;
  /** Number of the catchment that overflow reaches first; 0 when it leaves the map. */
  readonly destination: Int32Array;
  /** 1 where the low spot overflows into another tree or off the map, so that it merges no further. */
  readonly isRoot: Uint8Array;
  /** The root that the low spot is a part of. */
  readonly root: Int32Array;
  /** Pits in an order in which every low spot's pits stand together; `pits` elements. */
  readonly pitOrder: Int32Array;
  /** The low spot's pits are `pitOrder[pitStart[node]]` up to but without `pitOrder[pitEnd[node]]`. */
  readonly pitStart: Int32Array;
  readonly pitEnd: Int32Array;
}

/**
 * Builds the tree of low spots from the passes between catchments.
 *
 * Passes are taken from the lowest up. One that joins two low spots merges them; one that joins a
 * low spot with what already drains off the map makes it a root. Ties go by the passes' order.
 *
 * Exactness: every cell's single-flow path falls to its pit, so the lowest way from the cell to the
 * edge peaks at the higher of the cell itself and the pit's lowest way; that is a path in the
 * minimum spanning tree of catchments. Heights are copied, never computed.
 *
 * Cost: O(p a(p)) for p passes. Source: minimum spanning tree of catchments as in Cordonnier, Bovy
 * and Braun (2019), Earth Surface Dynamics 7, 549-562; forest of depressions as in Barnes,
 * Callaghan and Wickert (2020), Earth Surface Dynamics 8, 431 (abstracts read).
 */
export function buildLowSpotTree(
  passes: Passes,
  pitCells: Int32Array,
  workspace: Workspace,
): LowSpotTree {
  const pits = pitCells.length - 1;
  const nodes = Math.max(1, 2 * pits);
  const parent = workspace.int32('tree parent', nodes).fill(0);
  const child0 = workspace.int32('tree child 0', nodes).fill(0);
  const child1 = workspace.int32('tree child 1', nodes).fill(0);
  const spill = workspace.float32('tree spill', nodes).fill(0);
  const spillFrom = workspace.int32('tree spill from', nodes).fill(-1);
  const spillTo = workspace.int32('tree spill to', nodes).fill(-1);
  const destination = workspace.int32('tree destination', nodes).fill(0);
  const isRoot = workspace.uint8('tree is root', nodes).fill(0);
  const spillBits = new Int32Array(spill.buffer, spill.byteOffset, nodes);
  // sets of joined catchments: a member points on, a set's head holds minus the set's size
  const sets = workspace.int32('tree sets', pits + 1).fill(-1);
  const nodeOf = workspace.int32('tree node of set', pits + 1);
  for (let pit = 0; pit <= pits; pit++) nodeOf[pit] = pit;

  const { order, near: sortedNear, far: sortedFar } = sortedPasses(passes, workspace);
  let last = pits;
  for (let at = 0; at < passes.count; at++) {
    const nearHead = headOf(sets, sortedNear[at]);
    const farHead = headOf(sets, sortedFar[at]);
    if (nearHead === farHead) continue;
    const pass = order[at];
    const near = nodeOf[nearHead];
    const far = nodeOf[farHead];
    // the smaller set goes into the larger
    const head = sets[farHead] < sets[nearHead] ? farHead : nearHead;
    const other = head === nearHead ? farHead : nearHead;
    sets[head] += sets[other];
    sets[other] = head;
    if (near !== 0) {
      spillBits[near] = passes.heightBits[pass];
      spillFrom[near] = passes.cell[pass];
      spillTo[near] = passes.across[pass];
      destination[near] = passes.far[pass];
    }
    if (far !== 0) {
      spillBits[far] = passes.heightBits[pass];
      spillFrom[far] = passes.across[pass];
      spillTo[far] = passes.cell[pass];
      destination[far] = passes.near[pass];
    }
    if (near === 0 || far === 0) {
      isRoot[near + far] = 1;
      nodeOf[head] = 0;
    } else {
      last++;
      child0[last] = near;
      child1[last] = far;
      parent[near] = last;
      parent[far] = last;
      nodeOf[head] = last;
    }
  }
  const count = last + 1;
  return {
    pits,
    nodes: count,
    pitCells,
    parent: parent.subarray(0, count),
    child0: child0.subarray(0, count),
    child1: child1.subarray(0, count),
    spill: spill.subarray(0, count),
    spillFrom: spillFrom.subarray(0, count),
    spillTo: spillTo.subarray(0, count),
    destination: destination.subarray(0, count),
    isRoot: isRoot.subarray(0, count),
    ...orderPits(pits, count, parent, child0, child1, workspace),
  };
}

/** The order of passes by height with the catchments on either side, fetched ahead of a loop that would stall on each. */
function sortedPasses(
  passes: Passes,
  workspace: Workspace,
): { order: Int32Array; near: Int32Array; far: Int32Array } {
  const order = sortedByHeight(passes, workspace);
  // the sort is done with these buffers
  const near = workspace.int32('sort keys', passes.near.length);
  const far = workspace.int32('sort next keys', passes.near.length);
  for (let at = 0; at < passes.count; at++) {
    near[at] = passes.near[order[at]];
    far[at] = passes.far[order[at]];
  }
  return { order, near, far };
}

/** Head of the set that a catchment is in, halving the path on the way. */
function headOf(sets: Int32Array, start: number): number {
  let at = start;
  for (let next = sets[at]; next >= 0; next = sets[at]) {
    const beyond = sets[next];
    if (beyond < 0) return next;
    sets[at] = beyond;
    at = beyond;
  }
  return at;
}

/** Numbers of passes in ascending order of height, stable; a radix sort, nine bits at a time (few enough for the first cache). */
function sortedByHeight(passes: Passes, workspace: Workspace): Int32Array {
  const { count, heightBits } = passes;
  let keys = workspace.int32('sort keys', heightBits.length);
  let order = workspace.int32('sort order', heightBits.length);
  let nextKeys = workspace.int32('sort next keys', heightBits.length);
  let nextOrder = workspace.int32('sort next order', heightBits.length);
  const digits = workspace.int32('sort digits', 512);
  let least = 0x7fffffff;
  let greatest = 0;
  for (let at = 0; at < count; at++) {
    least = Math.min(least, heightBits[at]);
    greatest = Math.max(greatest, heightBits[at]);
  }
  for (let at = 0; at < count; at++) {
    keys[at] = heightBits[at] - least;
    order[at] = at;
  }
  for (let shift = 0; shift < 31 && (greatest - least) >> shift > 0; shift += 9) {
    digits.fill(0);
    for (let at = 0; at < count; at++) digits[(keys[at] >> shift) & 511]++;
    let sum = 0;
    for (let digit = 0; digit < 512; digit++) {
      const here = digits[digit];
      digits[digit] = sum;
      sum += here;
    }
    for (let at = 0; at < count; at++) {
      const key = keys[at];
      const to = digits[(key >> shift) & 511]++;
      nextKeys[to] = key;
      nextOrder[to] = order[at];
    }
    [keys, nextKeys] = [nextKeys, keys];
    [order, nextOrder] = [nextOrder, order];
  }
  return order;
}

function orderPits(
  pits: number,
  count: number,
  parent: Int32Array,
  child0: Int32Array,
  child1: Int32Array,
  workspace: Workspace,
): Pick<LowSpotTree, 'root' | 'pitOrder' | 'pitStart' | 'pitEnd'> {
  const root = workspace.int32('tree root', count);
  const pitOrder = workspace.int32('tree pit order', pits);
  const pitStart = workspace.int32('tree pit start', count);
  const pitEnd = workspace.int32('tree pit end', count);
  // first how many pits each low spot has, then where they stand
  pitEnd[0] = 0;
  for (let node = 1; node < count; node++) {
    pitEnd[node] = node <= pits ? 1 : pitEnd[child0[node]] + pitEnd[child1[node]];
  }
  let next = 0;
  root[0] = 0;
  pitStart[0] = 0;
  for (let node = count - 1; node > 0; node--) {
    const size = pitEnd[node];
    const above = parent[node];
    if (above === 0) {
      root[node] = node;
      pitStart[node] = next;
      next += size;
    } else {
      root[node] = root[above];
      pitStart[node] = child0[above] === node ? pitStart[above] : pitEnd[above] - size;
    }
    pitEnd[node] = pitStart[node] + size;
    if (node <= pits) pitOrder[pitStart[node]] = node;
  }
  return { root, pitOrder, pitStart, pitEnd };
}
