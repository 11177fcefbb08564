import { assert } from '../errors';
import type { LowSpotTree } from './low-spot-tree';
import type { LowSpotVolumes } from './volumes';

/**
 * Standing water after a storm, as pools. A pool is a low spot that holds or passes on water and is
 * not part of a larger one that does. Parallel arrays of `count` elements, every pool before the
 * one that it spills into. Volumes are in the unit of the inflow.
 */
export interface StormPools {
  readonly count: number;
  /** The pool's node in the tree of low spots; `spillFrom`, `spillTo` there tell its way on. */
  readonly node: Int32Array;
  /** From the pool's own catchments. */
  readonly ownInflow: Float64Array;
  /** Own inflow and what other pools spill into it. */
  readonly inflow: Float64Array;
  readonly stored: Float64Array;
  readonly spilled: Float64Array;
  /** 1 when the pool stands at its spill level. */
  readonly full: Uint8Array;
  /** Index of the pool that receives what is spilled; -1 when that leaves the map or nothing is spilled. */
  readonly destination: Int32Array;
  /** Index of the pool that covers each pit, -1 where no water is; `pits + 1` elements. */
  readonly poolOfPit: Int32Array;
  /** What leaves the map, directly and by spilling. */
  readonly outflow: number;
}

/**
 * Fills low spots with what flows to them, lets them spill, and merges those that fill up together.
 *
 * Each low spot of the tree has a capacity of its own: its volume less its children's. Water goes
 * to the pit's low spot; what does not fit goes to wherever the full one points: across the pass
 * while the sibling still has room, then to the parent; from a root into the next tree or off the map.
 * A pointer never has to change once set (a sibling that fills later points to the parent itself),
 * so paths through full low spots can be shortened as in union-find, and the order of pouring does
 * not matter. Static: no time, no seepage.
 *
 * @param tree - with its volumes, in cells times metres.
 * @param inflow - what reaches each pit, `pits + 1` elements, none negative; element 0 leaves the map.
 * Balance: inflow equals stored water plus outflow but for the rounding of sums in Float64.
 * Cost: O(nodes) but for a near-constant factor. Source: the same end state as Barnes, Callaghan and
 *   Wickert (2021), Earth Surface Dynamics 9, 105 (abstract read); the pointer scheme is our own.
 */
export function pourStorm(
  { tree, volume }: { readonly tree: LowSpotTree } & Pick<LowSpotVolumes, 'volume'>,
  inflow: Float64Array,
): StormPools {
  const { nodes, pits, child0, child1 } = tree;
  const room = new Float64Array(nodes);
  const next = new Int32Array(nodes);
  for (let node = 0; node < nodes; node++) {
    next[node] = node;
    // rounding can put the children's volume a trifle above the parent's
    room[node] = Math.max(0, volume[node] - volume[child0[node]] - volume[child1[node]]);
  }
  const free = room.slice();
  let outflow = inflow[0];
  for (let pit = 1; pit <= pits; pit++) {
    if (inflow[pit] > 0) outflow += pour(tree, free, next, pit, inflow[pit]);
  }
  return collectPools(tree, volume, inflow, room, free, next, outflow);
}

/** Pours an amount into a pit; returns what leaves the map. `next[x] === x` while `x` has room. */
function pour(
  tree: LowSpotTree,
  free: Float64Array,
  next: Int32Array,
  pit: number,
  amount: number,
): number {
  const { parent, child0, child1, isRoot, destination } = tree;
  let left = amount;
  let node = find(next, pit);
  while (node !== 0) {
    if (left < free[node]) {
      free[node] -= left;
      return 0;
    }
    left -= free[node];
    free[node] = 0;
    const above = parent[node];
    if (isRoot[node] === 1) {
      next[node] = destination[node];
    } else {
      const sibling = child0[above] === node ? child1[above] : child0[above];
      next[node] = next[sibling] !== sibling ? above : destination[node];
    }
    if (left === 0) return 0;
    node = find(next, node);
  }
  return left;
}

function find(next: Int32Array, start: number): number {
  let node = start;
  while (next[node] !== node) {
    next[node] = next[next[node]];
    node = next[node];
  }
  return node;
}

function collectPools(
  tree: LowSpotTree,
  volume: Float64Array,
  inflow: Float64Array,
  room: Float64Array,
  free: Float64Array,
  next: Int32Array,
  outflow: number,
): StormPools {
  const { nodes, pits, parent, child0, child1, destination } = tree;
  // the pool that a low spot is part of: its parent's once both children are full
  const poolNode = new Int32Array(nodes);
  for (let node = nodes - 1; node > 0; node--) {
    const above = parent[node];
    const merged =
      above !== 0 && next[child0[above]] !== child0[above] && next[child1[above]] !== child1[above];
    poolNode[node] = merged ? poolNode[above] : node;
  }

  // index of each pool, -1 for low spots that are none
  const index = new Int32Array(nodes).fill(-1);
  const own = new Float64Array(nodes);
  let count = 0;
  for (let pit = 1; pit <= pits; pit++) {
    const node = poolNode[pit];
    own[node] += inflow[pit];
    const isWet = node > pits || next[node] !== node || free[node] < room[node];
    if (isWet && index[node] < 0) index[node] = count++;
  }

  // how many pools spill into each, so that chains can be followed downstream
  const donors = new Int32Array(nodes);
  for (let node = 1; node < nodes; node++) {
    if (index[node] >= 0 && next[node] !== node) donors[poolNode[destination[node]]]++;
  }
  const pools = {
    count,
    node: new Int32Array(count),
    ownInflow: new Float64Array(count),
    inflow: new Float64Array(count),
    stored: new Float64Array(count),
    spilled: new Float64Array(count),
    full: new Uint8Array(count),
    destination: new Int32Array(count).fill(-1),
    poolOfPit: new Int32Array(pits + 1),
    outflow,
  };
  const received = new Float64Array(nodes);
  let placed = 0;
  for (let start = 1; start < nodes; start++) {
    if (index[start] < 0 || donors[start] !== 0) continue;
    for (let node = start; node !== 0 && donors[node] === 0 && index[node] >= 0;) {
      donors[node] = -1;
      index[node] = placed;
      const children = volume[child0[node]] + volume[child1[node]];
      const inflowHere = own[node] + received[node];
      const stored = children + room[node] - free[node];
      pools.node[placed] = node;
      pools.ownInflow[placed] = own[node];
      pools.inflow[placed] = inflowHere;
      pools.stored[placed] = stored;
      if (next[node] !== node) {
        const to = poolNode[destination[node]];
        pools.full[placed] = 1;
        // a pool that nothing was poured into receives nothing; what is left over is rounding
        const spilled = to !== 0 && index[to] < 0 ? 0 : Math.max(0, inflowHere - stored);
        pools.spilled[placed] = spilled;
        received[to] += spilled;
        donors[to]--;
        node = to;
      } else {
        node = 0;
      }
      placed++;
    }
  }
  assert(placed === count, 'pools must not spill in a loop');
  for (let at = 0; at < count; at++) {
    if (pools.spilled[at] > 0) {
      const to = poolNode[destination[pools.node[at]]];
      pools.destination[at] = to === 0 ? -1 : index[to];
    }
  }
  pools.poolOfPit[0] = -1;
  for (let pit = 1; pit <= pits; pit++) pools.poolOfPit[pit] = index[poolNode[pit]];
  return pools;
}
