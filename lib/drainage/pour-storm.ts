import { assert } from '../errors';
import type { LowSpotTree } from './low-spot-tree';
import type { Terrain } from './terrain';

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
 * @param inflow - what reaches each pit, in cells times metres as the terrain's volumes are;
 *   `pits + 1` elements, none negative; element 0 leaves the map.
 * @returns arrays of its own, which no later call overwrites.
 * Balance: inflow equals stored water plus outflow but for the rounding of sums in Float64.
 * Cost: O(nodes) but for a near-constant factor. Source: the same end state as Barnes, Callaghan and
 *   Wickert (2021), Earth Surface Dynamics 9, 105 (abstract read); the pointer scheme is our own.
 */
export function pourStorm(
  terrain: Pick<Terrain, 'tree' | 'volume' | 'ownVolume' | 'workspace'>,
  inflow: Float64Array,
): StormPools {
  const { tree, ownVolume, workspace } = terrain;
  const free = workspace.float64('storm free', tree.nodes);
  const next = workspace.int32('storm next', tree.nodes);
  const merged = workspace.uint8('storm merged', tree.nodes).fill(0);
  free.set(ownVolume);
  for (let node = 0; node < tree.nodes; node++) next[node] = node;
  const outflow = pourAll(tree, inflow, free, next, merged);
  return collectPools(terrain, inflow, free, next, merged, outflow);
}

/**
 * Pours all inflow; returns what leaves the map. On return `next[x] === x` where `x` has room, and
 * `merged[x]` is 1 where both children of `x` are full.
 */
function pourAll(
  tree: LowSpotTree,
  inflow: Float64Array,
  free: Float64Array,
  next: Int32Array,
  merged: Uint8Array,
): number {
  const { pits, parent, child0, child1, isRoot, destination } = tree;
  let outflow = inflow[0];
  for (let pit = 1; pit <= pits; pit++) {
    let left = inflow[pit];
    let node = pit;
    while (left > 0) {
      node = find(next, node);
      if (node === 0) {
        outflow += left;
        break;
      }
      if (left < free[node]) {
        free[node] -= left;
        break;
      }
      left -= free[node];
      free[node] = 0;
      if (isRoot[node] === 1) {
        next[node] = destination[node];
        continue;
      }
      const above = parent[node];
      const sibling = child0[above] === node ? child1[above] : child0[above];
      const isSiblingFull = next[sibling] !== sibling;
      next[node] = isSiblingFull ? above : destination[node];
      if (isSiblingFull) merged[above] = 1;
    }
  }
  return outflow;
}

function find(next: Int32Array, start: number): number {
  let node = start;
  for (let to = next[node]; to !== node; to = next[node]) {
    next[node] = next[to];
    node = next[node];
  }
  return node;
}

function collectPools(
  { tree, volume, ownVolume, workspace }: Parameters<typeof pourStorm>[0],
  inflow: Float64Array,
  free: Float64Array,
  next: Int32Array,
  merged: Uint8Array,
  outflow: number,
): StormPools {
  const { nodes, pits, parent, destination } = tree;
  // the pool that a low spot is part of: its parent's once both children are full
  const poolNode = workspace.int32('storm pool node', nodes);
  for (let node = nodes - 1; node >= 0; node--) {
    poolNode[node] = merged[parent[node]] === 1 ? poolNode[parent[node]] : node;
  }

  // pools in the order of their first pit, and how many others spill into each
  const own = workspace.float64('storm own inflow', nodes).fill(0);
  const donors = workspace.int32('storm donors', nodes).fill(0);
  const target = workspace.int32('storm target', nodes);
  const listed = workspace.int32('storm pools', pits);
  const isListed = merged;
  isListed.fill(0);
  let count = 0;
  for (let pit = 1; pit <= pits; pit++) {
    const node = poolNode[pit];
    own[node] += inflow[pit];
    const isWet = node > pits || next[node] !== node || free[node] < ownVolume[node];
    if (!isWet || isListed[node] === 1) continue;
    isListed[node] = 1;
    listed[count++] = node;
    if (next[node] === node) continue;
    target[node] = poolNode[destination[node]];
    donors[target[node]]++;
  }

  const pools = {
    count,
    node: new Int32Array(count),
    ownInflow: new Float64Array(count),
    inflow: new Float64Array(count),
    stored: new Float64Array(count),
    spilled: new Float64Array(count),
    full: new Uint8Array(count),
    destination: new Int32Array(count),
    poolOfPit: new Int32Array(pits + 1),
    outflow,
  };
  // follow chains downstream from pools that nothing spills into
  const index = workspace.int32('storm pool index', nodes).fill(-1);
  const received = workspace.float64('storm received', nodes).fill(0);
  let placed = 0;
  for (let at = 0; at < count; at++) {
    let node = listed[at];
    while (isListed[node] === 1 && donors[node] === 0) {
      isListed[node] = 0;
      index[node] = placed;
      const isFull = next[node] !== node;
      const total = own[node] + received[node];
      // its children are full, or it would not be a pool
      const stored = volume[node] - free[node];
      pools.node[placed] = node;
      pools.ownInflow[placed] = own[node];
      pools.inflow[placed] = total;
      pools.stored[placed] = stored;
      pools.full[placed] = isFull ? 1 : 0;
      placed++;
      if (!isFull) break;
      const to = target[node];
      // where nothing was poured nothing arrives: what is left over then is rounding
      const spilled = to === 0 || isListed[to] === 1 ? Math.max(0, total - stored) : 0;
      pools.spilled[placed - 1] = spilled;
      pools.destination[placed - 1] = spilled > 0 ? to : 0;
      received[to] += spilled;
      donors[to]--;
      node = to;
    }
  }
  assert(placed === count, 'pools must not spill in a loop');
  // from nodes to pools; node 0, the outside, is none
  for (let at = 0; at < count; at++) pools.destination[at] = index[pools.destination[at]];
  for (let pit = 1; pit <= pits; pit++) pools.poolOfPit[pit] = index[poolNode[pit]];
  pools.poolOfPit[0] = -1;
  return pools;
}
