import type { ConduitOutlet } from '../../ground/conduits';
import type { PondWater } from '../terrain/spread-flow';
import type { Routing } from '../terrain/routing';
import type { SettledStorm } from './settle-storm';

/** Water that leaves one body of kept water through a conduit. */
export interface Leaving {
  readonly keeper: number;
  /** Cell at which it leaves. */
  readonly from: number;
  readonly to: ConduitOutlet;
  readonly volumeM3: number;
}

/**
 * Where a storm's water goes over the ground, and what keeps it. Volumes in cubic metres.
 *
 * A keeper is a body of water in which all is mixed: the pools of one pond, or of several that met or spilled into one
 * another where none of them had an exit.
 */
export interface StormFlow {
  readonly routing: Routing;
  /** What rain, roofs and sumps put down on each cell. */
  readonly putDownM3: Float64Array;
  /** What arrives in each cell, its own included; in a pond what enters it there. */
  readonly arrivesM3: Float64Array;
  readonly pondWaterM3: PondWater;
  readonly keepers: number;
  /** Keeper of each pool; of each pond that keeps anything, else -1. */
  readonly keeperOfPool: Int32Array;
  readonly keeperOfPond: Int32Array;
  /** The pool of each pit, -1 where no water is; `pits + 1` elements. */
  readonly poolOfPit: Int32Array;
  /** What each keeper gets and neither pond lets on: it stands or leaves. */
  readonly keptM3: Float64Array;
  readonly leaving: readonly Leaving[];
}

/** Puts a settled storm together as a flow over the ground. Cost: O(n). */
export function stormFlow(putDown: Float64Array, settled: SettledStorm, cellM2: number): StormFlow {
  const { routing, pools, arrives, pondWater, flows } = settled;
  const { ponds, terrain } = routing;
  const { tree, catchment } = terrain;
  const joined = new Joined(pools.count);
  const { arrived, passed } = pondWater;
  for (let pool = 0; pool < pools.count; pool++) {
    if (pools.destination[pool] !== -1) joined.join(pool, pools.destination[pool]);
  }
  const onePool = new Int32Array(ponds.count + 1).fill(-1);
  for (let pond = 1; pond <= ponds.count; pond++) {
    if (!(arrived[pond] > passed[pond])) continue;
    const node = ponds.node[pond];
    for (let at = tree.pitStart[node]; at < tree.pitEnd[node]; at++) {
      const pool = pools.poolOfPit[tree.pitOrder[at]];
      if (pool === -1) continue;
      if (onePool[pond] === -1) onePool[pond] = pool;
      else joined.join(onePool[pond], pool);
    }
  }
  const { count: keepers, of: keeperOfPool } = joined.numbered();
  const keeperOfPond = new Int32Array(ponds.count + 1).fill(-1);
  const keptM3 = new Float64Array(keepers);
  for (let pond = 1; pond <= ponds.count; pond++) {
    if (onePool[pond] === -1) continue;
    keeperOfPond[pond] = keeperOfPool[onePool[pond]];
    keptM3[keeperOfPond[pond]] += (arrived[pond] - passed[pond]) * cellM2;
  }
  const leaving = flows
    .filter(({ volumeM3 }) => volumeM3 > 0)
    .map(({ conduit: { inlet, outlet }, volumeM3 }): Leaving => ({
      keeper: keeperOfPool[pools.poolOfPit[catchment[inlet]]],
      from: inlet,
      to: outlet,
      volumeM3,
    }));
  return {
    routing,
    putDownM3: scaled(putDown, cellM2),
    arrivesM3: scaled(arrives, cellM2),
    pondWaterM3: {
      arrived: scaled(arrived, cellM2),
      passed: scaled(passed, cellM2),
    },
    keepers,
    keeperOfPool,
    keeperOfPond,
    poolOfPit: pools.poolOfPit,
    keptM3,
    leaving,
  };
}

function scaled(depths: Float64Array, cellM2: number): Float64Array {
  const volumes = new Float64Array(depths.length);
  for (let i = 0; i < depths.length; i++) volumes[i] = depths[i] * cellM2;
  return volumes;
}

/**
 * Water that each keeper has standing in each of some places, m3.
 *
 * @param depthM - standing water by cell; its shares tell where what stands lies.
 * @param placeOf - number of the place that a cell lies in, 0 up to but without `places`.
 * @returns `keepers * places` values.
 * Cost: O(n).
 */
export function keptOn(
  { routing, poolOfPit, keeperOfPool, keepers, keptM3, leaving }: StormFlow,
  depthM: Float32Array,
  placeOf: (cell: number) => number,
  places: number,
): Float64Array {
  const { catchment, tree } = routing.terrain;
  const held = new Float64Array(keepers * places);
  const whole = new Float64Array(keepers);
  for (let cell = 0; cell < depthM.length; cell++) {
    if (!(depthM[cell] > 0)) continue;
    const pool = poolOfPit[catchment[cell]];
    if (pool === -1) continue;
    const keeper = keeperOfPool[pool];
    held[keeper * places + placeOf(cell)] += depthM[cell];
    whole[keeper] += depthM[cell];
  }
  // a film too thin for the raster of depths stands in its pit
  for (let pit = 1; pit < poolOfPit.length; pit++) {
    const keeper = poolOfPit[pit] === -1 ? -1 : keeperOfPool[poolOfPit[pit]];
    if (keeper === -1 || whole[keeper] > 0) continue;
    held[keeper * places + placeOf(tree.pitCells[pit])] = 1;
    whole[keeper] = 1;
  }
  const standsM3 = keptM3.slice();
  for (const { keeper, volumeM3 } of leaving) standsM3[keeper] -= volumeM3;
  for (let keeper = 0; keeper < keepers; keeper++) {
    const scale = whole[keeper] > 0 ? Math.max(0, standsM3[keeper]) / whole[keeper] : 0;
    for (let place = 0; place < places; place++) held[keeper * places + place] *= scale;
  }
  return held;
}

/** Sets of pools that are joined to one. */
class Joined {
  readonly #above: Int32Array;

  constructor(count: number) {
    this.#above = new Int32Array(count);
    for (let pool = 0; pool < count; pool++) this.#above[pool] = pool;
  }

  #top(pool: number): number {
    let at = pool;
    while (this.#above[at] !== at) {
      this.#above[at] = this.#above[this.#above[at]];
      at = this.#above[at];
    }
    return at;
  }

  join(a: number, b: number): void {
    this.#above[this.#top(a)] = this.#top(b);
  }

  /** Numbers the sets from 0 in the order of their first pool. */
  numbered(): { readonly count: number; readonly of: Int32Array<ArrayBuffer> } {
    const size = this.#above.length;
    const numbers = new Int32Array(size).fill(-1);
    const of = new Int32Array(size);
    let count = 0;
    for (let pool = 0; pool < size; pool++) {
      const top = this.#top(pool);
      if (numbers[top] === -1) numbers[top] = count++;
      of[pool] = numbers[top];
    }
    return { count, of };
  }
}
