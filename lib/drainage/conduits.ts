import type { Conduit } from '../ground/conduits';
import { pourStorm, type StormPools } from './pour-storm';
import type { ShapedGround } from './shaped-ground';
import type { BareTerrain } from './terrain';

/** What one conduit carries in a storm. */
export interface ConduitFlow {
  readonly conduit: Conduit;
  readonly volumeM3: number;
  /** The most that it could have carried. */
  readonly limitM3: number;
}

/** Standing water with conduits at work. Volumes of the pools are in cells times metres, as `pourStorm` has them. */
export interface ConduitRouting {
  /** `stored` is what stands; `inflow` is that, what is spilled and what is drained. */
  readonly pools: StormPools;
  /** What conduits take out of each pool, in the pools' unit. */
  readonly drained: Float64Array;
  /** For each conduit of the ground, in its order. */
  readonly flows: readonly ConduitFlow[];
  /** Pools in an order in which each comes before those that it spills into or that its conduits empty into. */
  readonly order: Int32Array;
  readonly notes: readonly string[];
}

export interface ConduitOptions {
  /** How long conduits run. */
  readonly durationH: number;
  /** What is in drain pipes already (roofs' water), m3 by pipe. */
  readonly pipeUseM3?: ReadonlyMap<string, number>;
}

/**
 * Fills, spills and merges low spots while conduits take water out of the pits at their inlets and let it out elsewhere.
 *
 * An inlet counts as room below its pit, as large as the conduit can carry in its time: what reaches the pit, from its
 * catchment or by spilling, goes there first; only what is too much stands. What was taken is poured in at the outlet and the whole
 * poured again until nothing changes, which takes one pour for each link of a chain of conduits. So water is neither
 * made nor lost, and no order has to be guessed. Conduits that share a pipe share its capacity in proportion to what
 * they would take. One whose water comes back to it is refused, with a note.
 *
 * @param inflow - what reaches each pit over the ground, as for `pourStorm`; not modified.
 * Balance: inflow and what comes out of conduits equal what is stored, drained and leaves the map, to rounding.
 * Cost: a pour, O(low spots), for each link of the longest chain; one in all when there are no conduits.
 * Limits: static, as the storm is: a conduit works at full capacity while there is water, and not after the storm.
 */
export function routeConduits(
  {
    terrain,
    ground,
    cellM2,
  }: Pick<ShapedGround, 'ground' | 'cellM2'> & {
    readonly terrain: BareTerrain;
  },
  inflow: Float64Array,
  options: ConduitOptions,
): ConduitRouting {
  const { conduits } = ground;
  const notes: string[] = [];
  const links = conduits.map((conduit) => linkOf(terrain, conduit));
  const limits = Float64Array.from(conduits, (conduit, k) => {
    if (links[k].pit === -1) {
      notes.push(`${conduit.id} stands at the edge of the elevation data and takes nothing.`);
      return 0;
    }
    const volumeM3 = conduit.capacityM3PerS * 3600 * options.durationH;
    return conduit.blocked ? 0 : volumeM3 / cellM2;
  });
  const pipeLimits = roomInPipes(conduits, ground.pipes, options, cellM2);

  let state = settle(terrain, inflow, links, limits);
  // Each round takes a conduit out or bounds a pipe for good.
  for (;;) {
    const back = conduitThatComesBack(state, links);
    if (back !== -1) {
      limits[back] = 0;
      notes.push(
        `What ${conduits[back].id} carries comes back to its inlet, for the ground it empties onto is full: it is taken to carry nothing.`,
      );
    } else if (!boundPipes(conduits, pipeLimits, state.taken, limits)) break;
    state = settle(terrain, inflow, links, limits);
  }
  return {
    pools: { ...state.pools, stored: standing(state) },
    drained: state.drained,
    flows: conduits.map((conduit, k) => ({
      conduit,
      volumeM3: state.taken[k] * cellM2,
      limitM3: limits[k] * cellM2,
    })),
    order: downstream(state, links).order,
    notes: [
      ...notes,
      ...conduits.flatMap((conduit, k) => fullNote(conduit, state, limits, cellM2, k)),
    ],
  };
}

/** Catchments in which a conduit begins, -1 when not at a pit, and ends, -1 when not on the ground and 0 for one that leaves the map. */
interface Link {
  readonly pit: number;
  readonly to: number;
}

function linkOf({ catchment, tree }: BareTerrain, { inlet, outlet }: Conduit): Link {
  const pit = catchment[inlet];
  return {
    pit: pit > 0 && tree.pitCells[pit] === inlet ? pit : -1,
    to: typeof outlet === 'number' ? catchment[outlet] : -1,
  };
}

function roomInPipes(
  conduits: readonly Conduit[],
  pipes: ShapedGround['ground']['pipes'],
  { durationH, pipeUseM3 }: ConduitOptions,
  cellM2: number,
): Map<string, number> {
  const room = new Map<string, number>();
  for (const { pipe } of conduits) {
    const found = pipe === null ? undefined : pipes.get(pipe);
    if (found === undefined) continue;
    const wholeM3 = found.capacityM3PerS * 3600 * durationH;
    room.set(found.id, Math.max(0, wholeM3 - (pipeUseM3?.get(found.id) ?? 0)) / cellM2);
  }
  return room;
}

/** Pools and what each conduit takes, for given limits. */
interface Settled {
  /** As poured: `stored` has in it what is drained. */
  readonly pools: StormPools;
  readonly drained: Float64Array;
  readonly taken: Float64Array;
}

/** Differences in what is taken below this part of the whole are rounding. */
const rounding = 1e-13;

function settle(
  terrain: BareTerrain,
  inflow: Float64Array,
  links: readonly Link[],
  limits: Float64Array,
): Settled {
  const deepened = withRoom(terrain, links, limits);
  const whole = inflow.reduce((sum, volume) => sum + volume, 0);
  let taken = new Float64Array(links.length);
  // A chain has no more links than there are conduits; what changes after that runs in a circle.
  for (let round = 0; ; round++) {
    const poured = inflow.slice();
    links.forEach(({ to }, k) => {
      if (to !== -1) poured[to] += taken[k];
    });
    const pools = pourStorm(deepened, poured);
    const next = takenFrom(terrain, pools, links, limits);
    const change = next.reduce((most, value, k) => Math.max(most, Math.abs(value - taken[k])), 0);
    if (change <= rounding * whole || round > links.length) {
      return { pools, taken, drained: sumByPool(pools, links, next) };
    }
    taken = next;
  }
}

/** The terrain with room below the pits of inlets. */
function withRoom(
  terrain: BareTerrain,
  links: readonly Link[],
  limits: Float64Array,
): Pick<BareTerrain, 'tree' | 'volume' | 'ownVolume' | 'workspace'> {
  if (limits.every((limit) => limit === 0)) return terrain;
  const volume = terrain.volume.slice();
  const ownVolume = terrain.ownVolume.slice();
  links.forEach(({ pit }, k) => {
    if (pit === -1) return;
    ownVolume[pit] += limits[k];
    for (let node = pit; node !== 0; node = terrain.tree.parent[node]) volume[node] += limits[k];
  });
  return { tree: terrain.tree, workspace: terrain.workspace, volume, ownVolume };
}

/** What is in the room below each inlet's pit: it fills before the pit does. Inlets in one pit fill in their order. */
function takenFrom(
  { tree }: BareTerrain,
  pools: StormPools,
  links: readonly Link[],
  limits: Float64Array,
): Float64Array<ArrayBuffer> {
  const left = new Map<number, number>();
  return Float64Array.from(links, ({ pit }, k) => {
    const pool = pit === -1 ? -1 : pools.poolOfPit[pit];
    if (pool === -1) return 0;
    // A pool of several pits forms when all of them are full.
    const isFull = pools.full[pool] === 1 || pools.node[pool] > tree.pits;
    const there = isFull ? Infinity : (left.get(pit) ?? pools.stored[pool]);
    const volume = Math.min(limits[k], there);
    left.set(pit, there - volume);
    return volume;
  });
}

function sumByPool(
  pools: StormPools,
  links: readonly Link[],
  taken: Float64Array,
): Float64Array<ArrayBuffer> {
  const drained = new Float64Array(pools.count);
  links.forEach(({ pit }, k) => {
    if (taken[k] > 0) drained[pools.poolOfPit[pit]] += taken[k];
  });
  return drained;
}

function standing({ pools, drained }: Settled): Float64Array<ArrayBuffer> {
  const left = pools.stored.slice();
  for (let pool = 0; pool < left.length; pool++) {
    left[pool] = Math.max(0, left[pool] - drained[pool]);
  }
  return left;
}

/** Pools that a pool's water goes to next. */
function nextPools(state: Settled, links: readonly Link[]): number[][] {
  const { pools, taken } = state;
  const next = Array.from(pools.destination, (to, pool) =>
    to !== -1 && pools.spilled[pool] > 0 ? [to] : [],
  );
  links.forEach(({ pit, to }, k) => {
    const pool = to === -1 ? -1 : pools.poolOfPit[to];
    if (taken[k] > 0 && pool !== -1) next[pools.poolOfPit[pit]].push(pool);
  });
  return next;
}

/** Pools upstream first, as far as they are not in or behind a circle. */
function downstream(state: Settled, links: readonly Link[]): { order: Int32Array; whole: boolean } {
  // Pools come in that order already; only conduits can turn it round.
  if (links.length === 0) {
    const same = new Int32Array(state.pools.count);
    for (let pool = 0; pool < same.length; pool++) same[pool] = pool;
    return { order: same, whole: true };
  }
  const next = nextPools(state, links);
  const donors = new Int32Array(next.length);
  for (const list of next) for (const to of list) donors[to]++;
  const order: number[] = [];
  for (let pool = 0; pool < next.length; pool++) if (donors[pool] === 0) order.push(pool);
  for (const pool of order) {
    for (const to of next[pool]) if (--donors[to] === 0) order.push(to);
  }
  return { order: Int32Array.from(order), whole: order.length === next.length };
}

/** The last conduit whose water comes back to the pool it was taken from, -1 when there is none. */
function conduitThatComesBack(state: Settled, links: readonly Link[]): number {
  if (downstream(state, links).whole) return -1;
  const { poolOfPit } = state.pools;
  const next = nextPools(state, links);
  for (let k = links.length - 1; k >= 0; k--) {
    const { pit, to } = links[k];
    if (state.taken[k] === 0 || to === -1 || poolOfPit[to] === -1) continue;
    const reached = new Set([poolOfPit[to]]);
    for (const pool of reached) for (const to of next[pool]) reached.add(to);
    if (reached.has(poolOfPit[pit])) return k;
  }
  return -1;
}

/** Bounds conduits of the first pipe that is given more than it carries; false when there is none. */
function boundPipes(
  conduits: readonly Conduit[],
  room: Map<string, number>,
  taken: Float64Array,
  limits: Float64Array,
): boolean {
  for (const [pipe, limit] of room) {
    const sum = conduits.reduce(
      (total, conduit, k) => total + (conduit.pipe === pipe ? taken[k] : 0),
      0,
    );
    if (sum <= limit) continue;
    conduits.forEach((conduit, k) => {
      if (conduit.pipe === pipe) limits[k] = (taken[k] * limit) / sum;
    });
    // Their limits now add up to what the pipe carries.
    room.delete(pipe);
    return true;
  }
  return false;
}

function fullNote(
  conduit: Conduit,
  { taken }: Settled,
  limits: Float64Array,
  cellM2: number,
  k: number,
): string[] {
  if (conduit.outlet === 'soil' || taken[k] === 0 || taken[k] < limits[k]) return [];
  return [
    `${conduit.id} carries all it can, ${(taken[k] * cellM2).toFixed(2)} m3; what else reaches it stays above ground.`,
  ];
}
