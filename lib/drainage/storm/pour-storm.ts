import { assert } from '../../errors';
import type { LowSpotTree } from '../terrain/low-spot-tree';
import type { BareTerrain } from '../terrain/terrain';

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
  /** Index of the pool that receives what is spilled; -1 when that leaves the low spots poured into, or nothing is spilled. */
  readonly destination: Int32Array;
  /** Index of the pool that covers each pit, -1 where no water is; `pits + 1` elements. */
  readonly poolOfPit: Int32Array;
  /** What leaves the map, directly and by spilling. */
  readonly outflow: number;
}

/** What is known before the pouring. */
export interface PourOptions {
  /** 1 for low spots that are full already, by node: what their pits get is just what they hold, and goes no further here. */
  readonly full?: Uint8Array;
  /** Whether what an outermost low spot cannot hold ends there, for the caller to lead on; else it goes on to the next. */
  readonly ends?: boolean;
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
 * @returns arrays of its own, which no later call overwrites. What ends in full or outermost low spots is in their `spilled`, and
 *   not in `outflow`.
 * Balance: inflow equals stored water plus outflow but for the rounding of sums in Float64.
 * Cost: O(nodes) but for a near-constant factor. Source: the same end state as Barnes, Callaghan and
 *   Wickert (2021), Earth Surface Dynamics 9, 105 (abstract read); the pointer scheme is our own.
 */
export function pourStorm(
  terrain: Pick<BareTerrain, 'tree' | 'volume' | 'ownVolume' | 'workspace'>,
  inflow: Float64Array,
  { full, ends = false }: PourOptions = {},
): StormPools {
  const { ownVolume, workspace } = terrain;
  const tree = ends ? withEnds(terrain) : terrain.tree;
  const free = workspace.float64('storm free', tree.nodes);
  const next = workspace.int32('storm next', tree.nodes);
  const fullChildren = workspace.uint8('storm full children', tree.nodes).fill(0);
  free.set(ownVolume);
  for (let node = 0; node < tree.nodes; node++) next[node] = node;
  const isIn = workspace.uint8('storm in full', tree.nodes).fill(0);
  if (full !== undefined) fillUp(tree, full, free, next, fullChildren, isIn);
  const outflow = pourAll(tree, inflow, free, next, fullChildren, isIn);
  return collectPools(terrain, tree, inflow, free, next, fullChildren, full, outflow);
}

/** The tree with outermost low spots leading nowhere. */
function withEnds({ tree, workspace }: Pick<BareTerrain, 'tree' | 'workspace'>): LowSpotTree {
  const destination = workspace.int32('storm destination', tree.nodes);
  for (let node = 0; node < tree.nodes; node++) {
    destination[node] = tree.isRoot[node] === 1 ? 0 : tree.destination[node];
  }
  return { ...tree, destination };
}

/** Fills low spots with all that is in them; `isIn` receives 1 for their nodes. */
function fillUp(
  { nodes, parent, destination }: LowSpotTree,
  full: Uint8Array,
  free: Float64Array,
  next: Int32Array,
  fullChildren: Uint8Array,
  isIn: Uint8Array,
): void {
  for (let node = nodes - 1; node > 0; node--) {
    const above = parent[node];
    const isInside = isIn[above] === 1;
    if (!isInside && full[node] === 0) continue;
    isIn[node] = 1;
    free[node] = 0;
    const isSiblingFull = above !== 0 && fullChildren[above]++ === 1;
    next[node] = isInside || isSiblingFull ? above : destination[node];
  }
}

/**
 * Pours all inflow; returns what leaves the map. On return `next[x] === x` where `x` has room, and
 * `fullChildren[x]` counts the children of `x` that are full.
 */
function pourAll(
  { pits, parent, destination }: LowSpotTree,
  inflow: Float64Array,
  free: Float64Array,
  next: Int32Array,
  fullChildren: Uint8Array,
  isIn: Uint8Array,
): number {
  let outflow = inflow[0];
  for (let pit = 1; pit <= pits; pit++) {
    if (isIn[pit] === 1) continue;
    let left = inflow[pit];
    let node = pit;
    while (left > 0) {
      node = find(next, node);
      if (node === 0) {
        outflow += left;
        break;
      }
      const room = free[node];
      if (left < room) {
        free[node] = room - left;
        break;
      }
      left -= room;
      free[node] = 0;
      const above = parent[node];
      // a root has no parent; of two siblings the one that fills last passes water up
      const isSiblingFull = above !== 0 && fullChildren[above]++ === 1;
      next[node] = isSiblingFull ? above : destination[node];
    }
  }
  return outflow;
}

function find(next: Int32Array, start: number): number {
  let node = start;
  for (let to = next[node]; to !== node; to = next[node]) {
    const beyond = next[to];
    next[node] = beyond;
    node = beyond;
  }
  return node;
}

/** Added to the counts of donors of low spots that are no pool: more than any count. */
const NO_POOL = 1 << 30;
/** Marks a pool that has its place. */
const PLACED = -1;

function collectPools(
  { volume, ownVolume, workspace }: Parameters<typeof pourStorm>[0],
  tree: LowSpotTree,
  inflow: Float64Array,
  free: Float64Array,
  next: Int32Array,
  fullChildren: Uint8Array,
  full: Uint8Array | undefined,
  outflow: number,
): StormPools {
  const { nodes, pits, parent, destination } = tree;
  // the pool that a low spot is part of: its parent's once both children are full
  const poolNode = workspace.int32('storm pool node', nodes);
  for (let node = nodes - 1; node >= 0; node--) {
    poolNode[node] = fullChildren[parent[node]] === 2 ? poolNode[parent[node]] : node;
  }

  // pools in the order of their first pit, and how many others spill into each
  const own = workspace.float64('storm own inflow', nodes).fill(0);
  const donors = workspace.int32('storm donors', nodes).fill(NO_POOL);
  const target = workspace.int32('storm target', nodes);
  const listed = workspace.int32('storm pools', pits);
  let count = 0;
  for (let pit = 1; pit <= pits; pit++) {
    const node = poolNode[pit];
    own[node] += inflow[pit];
    if (donors[node] < NO_POOL) continue;
    const isFull = next[node] !== node;
    if (!isFull && node <= pits && free[node] >= ownVolume[node]) continue;
    donors[node] -= NO_POOL;
    listed[count++] = node;
    const isLetOut = full !== undefined && full[node] === 1;
    const to = isFull && !isLetOut ? poolNode[destination[node]] : 0;
    target[node] = to;
    donors[to]++;
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
  const index = workspace.int32('storm pool index', nodes).fill(-1);
  const placed = orderPools(listed, count, target, donors, pools.node, index);
  assert(placed === count, 'pools must not spill in a loop');
  const received = workspace.float64('storm received', nodes).fill(0);
  fillPools(pools, target, next, own, received, volume, free, index);
  for (let pit = 1; pit <= pits; pit++) pools.poolOfPit[pit] = index[poolNode[pit]];
  pools.poolOfPit[0] = -1;
  return pools;
}

/**
 * Puts every pool before the one that it spills into: chains are followed downstream from pools that
 * nothing spills into. Returns how many have a place. Apart from the sums below, because a loop
 * whose turns nobody can foretell should be short.
 *
 * @param target - the node that each pool spills into, or 0, which is no pool: no chain goes on from there.
 */
function orderPools(
  listed: Int32Array,
  count: number,
  target: Int32Array,
  donors: Int32Array,
  order: Int32Array,
  index: Int32Array,
): number {
  let placed = 0;
  for (let at = 0; at < count; at++) {
    for (let node = listed[at]; donors[node] === 0;) {
      donors[node] = PLACED;
      order[placed] = node;
      index[node] = placed++;
      node = target[node];
      donors[node]--;
    }
  }
  return placed;
}

/** Sums up what pools receive, hold and spill, in their order. */
function fillPools(
  pools: StormPools,
  target: Int32Array,
  next: Int32Array,
  own: Float64Array,
  received: Float64Array,
  volume: Float64Array,
  free: Float64Array,
  index: Int32Array,
): void {
  const { count, node: nodeOf, ownInflow, inflow, stored, spilled, full, destination } = pools;
  for (let at = 0; at < count; at++) {
    const node = nodeOf[at];
    const total = own[node] + received[node];
    // its children are full, or it would not be a pool
    const held = volume[node] - free[node];
    ownInflow[at] = own[node];
    inflow[at] = total;
    stored[at] = held;
    // Which pools are full nobody can foretell, so nothing here branches on it.
    const isFull = next[node] === node ? 0 : 1;
    full[at] = isFull;
    const to = target[node];
    const toPool = index[to];
    // where nothing was poured nothing arrives: what is left over then is rounding
    const isPassedOn = to === 0 || toPool !== -1;
    const over = isPassedOn ? Math.max(0, total - held) * isFull : 0;
    spilled[at] = over;
    received[to] += over;
    destination[at] = toPool;
    if (over === 0 && toPool !== -1) destination[at] = -1;
  }
}
