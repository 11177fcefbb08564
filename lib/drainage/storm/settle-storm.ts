import type { Conduit } from '../../ground/conduits';
import { LEAVES } from '../terrain/neighbours';
import { withOneWater, type Routing } from '../terrain/routing';
import { pourStorm, type StormPools } from './pour-storm';
import type { ShapedGround } from './shaped-ground';
import { spreadStorm, type PondWater } from '../terrain/spread-flow';
import type { BareTerrain } from '../terrain/terrain';
import { hourS } from '../../units/units';

/** What one conduit carries in a storm. */
export interface ConduitFlow {
  readonly conduit: Conduit;
  readonly volumeM3: number;
  /** The most that it could have carried. */
  readonly limitM3: number;
}

/** Where a storm's water is when it is over, conduits at work. Volumes are in cells times metres. */
export interface SettledStorm {
  /** `stored` is what stands; `inflow` is that, what is spilled and what is drained. */
  readonly pools: StormPools;
  /** What arrives in each cell over the ground, by conduits and from overflowing low spots. */
  readonly arrives: Float64Array;
  readonly pondWater: PondWater;
  /** The routing that it ran by: large low spots that it filled to the brim are one water in it. */
  readonly routing: Routing;
  /** What conduits take out of each pool. */
  readonly drained: Float64Array;
  /** For each conduit of the ground, in its order. */
  readonly flows: readonly ConduitFlow[];
  readonly notes: readonly string[];
}

export interface SettleOptions {
  /** How long conduits run. */
  readonly durationH: number;
  /** What is in drain pipes already (roofs' water), m3 by pipe. */
  readonly pipeUseM3?: ReadonlyMap<string, number>;
}

/** What settling needs of a ground. */
export interface SettledGround extends Pick<ShapedGround, 'cellM2' | 'routing'> {
  readonly ground: Pick<ShapedGround['ground'], 'conduits' | 'pipes'>;
}

/**
 * Lets a storm's water run down the ground until all of it stands, has left, or is in a drain.
 *
 * Water spreads by multiple flow and fills ponds on its way; what a pond without an exit cannot hold goes to the low spot beside it
 * and fills up the one around both (`pourStorm`). A large low spot that is filled to its brim is one water from then on, and lets on
 * at its exit what else comes. An inlet counts as room below its pit, as large as the conduit can carry in its
 * time: what reaches the pit goes there first; only what is too much stands. What conduits take is put down at their outlets,
 * and all of it run down again until nothing changes: one more sweep for each link of a chain. So water is neither made nor lost, and no order has to be guessed. Conduits that share a pipe share its
 * capacity in proportion to what they would take. One whose water comes back to it is refused, with a note.
 *
 * @param putDown - depth of water put down on each cell, metres, 0 where there is no data; not modified.
 * Balance: what is put down equals what is stored, drained and leaves the map, to rounding.
 * Cost: a sweep over the grid, and one more for each link of the longest chain of conduits.
 * Limits: static, as the storm is: a conduit works at full capacity while there is water, and not after the storm.
 */
export function settleStorm(
  shape: SettledGround,
  putDown: Float64Array,
  options: SettleOptions,
): SettledStorm {
  const { routing, ground, cellM2 } = shape;
  const { conduits } = ground;
  const notes: string[] = [];
  const links = conduits.map((conduit) => linkOf(routing.terrain, conduit));
  const limits = Float64Array.from(conduits, (conduit, k) => {
    if (links[k].pit === -1) {
      notes.push(`${conduit.id} stands at the edge of the elevation data and takes nothing.`);
      return 0;
    }
    const volumeM3 = conduit.capacityM3PerS * hourS * options.durationH;
    return conduit.blocked ? 0 : volumeM3 / cellM2;
  });
  const pipeLimits = roomInPipes(conduits, ground.pipes, options, cellM2);

  let on = shape;
  let state = settle(on, putDown, links, limits);
  // Each round makes a low spot one water, takes a conduit out or bounds a pipe for good.
  for (;;) {
    const brimful = overflowingRoots(on.routing, state.pools);
    if (brimful.length > 0) {
      on = { ...on, routing: withOneWater(on.routing, brimful) };
      state = settle(on, putDown, links, limits);
      continue;
    }
    const back = state.isSettled
      ? conduitThatComesBack(routing.terrain, state, links)
      : conduitThatUnsettles(on, putDown, links, limits);
    if (back !== -1) {
      limits[back] = 0;
      notes.push(
        `What ${conduits[back].id} carries comes back to its inlet, for the ground it empties onto is full: it is taken to carry nothing.`,
      );
    } else if (!boundPipes(conduits, pipeLimits, state.taken, limits)) break;
    state = settle(on, putDown, links, limits);
  }
  return {
    pools: { ...state.pools, stored: standing(state) },
    arrives: state.arrives,
    pondWater: state.pondWater,
    routing: on.routing,
    drained: state.drained,
    flows: conduits.map((conduit, k) => ({
      conduit,
      volumeM3: state.taken[k] * cellM2,
      limitM3: limits[k] * cellM2,
    })),
    notes: [
      ...notes,
      ...conduits.flatMap((conduit, k) => fullNote(conduit, state, limits, cellM2, k)),
    ],
  };
}

/** The pit in which a conduit begins, -1 when it is at none, and the cell it ends at, -1 when that is not on the ground. */
interface Link {
  readonly pit: number;
  readonly to: number;
}

function linkOf({ catchment, tree }: BareTerrain, { inlet, outlet }: Conduit): Link {
  const pit = catchment[inlet];
  return {
    pit: pit > 0 && tree.pitCells[pit] === inlet ? pit : -1,
    to: typeof outlet === 'number' ? outlet : -1,
  };
}

function roomInPipes(
  conduits: readonly Conduit[],
  pipes: ShapedGround['ground']['pipes'],
  { durationH, pipeUseM3 }: SettleOptions,
  cellM2: number,
): Map<string, number> {
  const room = new Map<string, number>();
  for (const { pipe } of conduits) {
    const found = pipe === null ? undefined : pipes.get(pipe);
    if (found === undefined) continue;
    const wholeM3 = found.capacityM3PerS * hourS * durationH;
    room.set(found.id, Math.max(0, wholeM3 - (pipeUseM3?.get(found.id) ?? 0)) / cellM2);
  }
  return room;
}

/** Pools and what each conduit takes, for given limits. */
interface Settled extends Pick<SettledStorm, 'arrives' | 'pondWater' | 'drained'> {
  /** As poured: `stored` has in it what is drained. */
  readonly pools: StormPools;
  readonly taken: Float64Array;
  /** False when water runs in a circle. */
  readonly isSettled: boolean;
}

/** Differences in what is taken below this part of the whole are rounding. */
const rounding = 1e-13;
/**
 * Rounds beyond those of a chain: a conduit some of whose water comes back to it settles all the same when that is little. What
 * does not settle in so many runs in a circle.
 */
const extraRounds = 12;

function settle(
  shape: SettledGround,
  putDown: Float64Array,
  links: readonly Link[],
  limits: Float64Array,
): Settled {
  const { terrain } = shape.routing;
  const { workspace } = terrain;
  const deepened = withRoom(terrain, links, limits);
  const arrives = workspace.float64('storm arrives', putDown.length);
  let taken = new Float64Array(links.length);
  for (let round = 0; ; round++) {
    arrives.set(putDown);
    links.forEach(({ to }, k) => {
      if (to !== -1) arrives[to] += taken[k];
    });
    const { pools, pondWater } = fillPonds(shape, deepened, arrives);
    const next = takenFrom(terrain, pools, links, limits);
    // what goes into the soil or a sewer changes nothing on the ground
    const change = next.reduce(
      (most, value, k) => (links[k].to === -1 ? most : Math.max(most, Math.abs(value - taken[k]))),
      0,
    );
    const isSettled = change <= rounding * (pools.outflow + sumOf(pools.stored));
    if (isSettled || round > links.length + extraRounds) {
      const drained = sumByPool(pools, links, next);
      return { pools, arrives, pondWater, taken: next, drained, isSettled };
    }
    taken = next;
  }
}

/** Runs water down the ground once and fills what it comes to. */
function fillPonds(
  { routing }: SettledGround,
  deepened: DeepenedTerrain,
  arrives: Float64Array,
): { readonly pools: StormPools; readonly pondWater: PondWater } {
  const { ponds, terrain } = routing;
  const { catchment, receiver, tree, workspace } = terrain;
  const capacity = workspace.float64('pond capacity', ponds.count + 1);
  for (let pond = 0; pond <= ponds.count; pond++)
    capacity[pond] = deepened.volume[ponds.node[pond]];
  const pondWater = spreadStorm(routing, arrives, capacity);
  const { arrived, passed } = pondWater;

  const full = workspace.uint8('storm full', tree.nodes).fill(0);
  const inflow = workspace.float64('storm inflow', tree.pits + 1).fill(0);
  const { start, cells } = ponds;
  for (let pond = 1; pond <= ponds.count; pond++) {
    const isFull = passed[pond] > 0;
    if (isFull) full[ponds.node[pond]] = 1;
    const keeps = isFull ? capacity[pond] / arrived[pond] : 1;
    for (let at = start[pond]; at < start[pond + 1]; at++) {
      const cell = cells[at];
      inflow[catchment[cell]] += arrives[cell] * keeps;
    }
  }
  let outflow = 0;
  for (let cell = 0; cell < arrives.length; cell++) {
    if (receiver[cell] === LEAVES) outflow += arrives[cell];
  }
  const pools = pourStorm(deepened, inflow, { full, ends: true });
  for (let pond = 1; pond <= ponds.count; pond++) {
    if (!(passed[pond] > 0)) continue;
    const pool = pools.poolOfPit[tree.pitOrder[tree.pitStart[ponds.node[pond]]]];
    pools.ownInflow[pool] += passed[pond];
    pools.inflow[pool] += passed[pond];
    if (pools.node[pool] === ponds.node[pond]) pools.spilled[pool] = passed[pond];
  }
  return { pools: { ...pools, outflow }, pondWater };
}

/** Outermost low spots that spill and have no exit of their own as a pond. */
function overflowingRoots({ ponds, terrain: { tree } }: Routing, pools: StormPools): number[] {
  const found: number[] = [];
  for (let pool = 0; pool < pools.count; pool++) {
    const node = pools.node[pool];
    if (tree.isRoot[node] === 0 || !(pools.spilled[pool] > 0)) continue;
    const pond = ponds.numberOf[node];
    if (pond === 0 || ponds.to[pond] === -1) found.push(node);
  }
  return found;
}

function sumOf(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
}

type DeepenedTerrain = Pick<BareTerrain, 'tree' | 'volume' | 'ownVolume' | 'workspace'>;

/** The terrain with room below the pits of inlets. */
function withRoom(
  terrain: BareTerrain,
  links: readonly Link[],
  limits: Float64Array,
): DeepenedTerrain {
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

/** The last conduit whose water comes back, on the steepest way, to the pool that it was taken from; -1 when there is none. */
function conduitThatComesBack(
  { catchment, tree }: BareTerrain,
  { pools, taken }: Settled,
  links: readonly Link[],
): number {
  const next = (pool: number): number[] => [
    ...(pools.spilled[pool] > 0 ? [pools.poolOfPit[tree.destination[pools.node[pool]]]] : []),
    ...links.flatMap(({ pit, to }, k) =>
      taken[k] > 0 && to !== -1 && pools.poolOfPit[pit] === pool
        ? [pools.poolOfPit[catchment[to]]]
        : [],
    ),
  ];
  for (let k = links.length - 1; k >= 0; k--) {
    const { pit, to } = links[k];
    if (taken[k] === 0 || to === -1) continue;
    const reached = new Set([pools.poolOfPit[catchment[to]]]);
    for (const pool of reached) if (pool !== -1) for (const each of next(pool)) reached.add(each);
    if (reached.has(pools.poolOfPit[pit])) return k;
  }
  return -1;
}

/** The last conduit without which the water settles; the last of all when only several together do it. */
function conduitThatUnsettles(
  shape: SettledGround,
  putDown: Float64Array,
  links: readonly Link[],
  limits: Float64Array,
): number {
  let last = -1;
  for (let k = links.length - 1; k >= 0; k--) {
    if (limits[k] === 0 || links[k].to === -1) continue;
    if (last === -1) last = k;
    const without = limits.slice();
    without[k] = 0;
    if (settle(shape, putDown, links, without).isSettled) return k;
  }
  return last;
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
