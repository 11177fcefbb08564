import type { ConduitOutlet } from '../ground/conduits';
import { LEAVES, neighbourOffsets, NONE } from './neighbours';

/** Single flow over the ground, with the water that moves along it. */
export interface Flow {
  readonly width: number;
  /** Direction code of each cell on the unfilled ground; paths end in pits or leave the map. */
  readonly receiver: Uint8Array;
  /** Catchment of each cell; 0 leaves the map. */
  readonly catchment: Int32Array;
  /** Water that passes each cell on its way down, its own included, m3. */
  readonly passingM3: Float64Array;
}

/** Water that a conduit takes out of a pool and lets out elsewhere. */
export interface Drain {
  readonly pool: number;
  readonly volumeM3: number;
  /** Cell at which it goes below ground. */
  readonly inlet: number;
  readonly outlet: ConduitOutlet;
}

/** Pools at the end of the storm. */
export interface Pools {
  readonly count: number;
  /** The pool of each catchment; -1 for catchment 0. */
  readonly ofCatchment: Int32Array;
  readonly storedM3: Float64Array;
  readonly spilledM3: Float64Array;
  /** Last cell on a pool's side of the pass it spills through, and the first beyond; -1 where it does not spill. */
  readonly spillFrom: Int32Array;
  readonly spillTo: Int32Array;
  /** Pools in an order in which each comes before those that its water goes to. */
  readonly order: Int32Array;
  readonly drains: readonly Drain[];
}

/** Roof water that enters the ground on another owner's side of the lot line than its roof stands. */
export interface Displaced {
  readonly cell: number;
  readonly volumeM3: number;
  /** Owner of the ground below the roof: an index as in {@link Crossings}. */
  readonly roofOwner: number;
}

/** Water that crossed one lot's line. Owners are lots by index, and `owners` itself for all that is on no lot. */
export interface Crossings {
  /** First entry of water that was never on the lot, by the owner it came from, m3; `owners + 1` values. */
  readonly runOnM3: Float64Array;
  /** Last exit of water, by the owner it went to, m3; `owners + 1` values. */
  readonly passedOnM3: Float64Array;
  /** Water that stands on the lot at the end, m3. */
  readonly storedM3: number;
  /** Water of the lot that drains take into the storm sewer from its ground, m3. */
  readonly sewerM3: number;
  /** Water of the lot that soaks into the soil below basins, m3. */
  readonly soilM3: number;
}

/**
 * Follows every cubic metre over one lot's line: in, out, and what stays.
 *
 * Water that has been on the lot is told from water that has not. Water that leaves and comes back is
 * counted as never having left, so that a path which winds along the line is not counted many times; water that
 * leaves for good is put down to the owner of the ground it stepped onto last. In a pool all water is mixed:
 * what a pool keeps on the lot has come on to it, what it keeps outside has left, and what spills carries the mixture on.
 * A conduit carries the mixture of its pool to its outlet, over the line if that is on the other side; what goes from the lot into the
 * storm sewer is counted by itself.
 * By construction run-off of the lot + run-on = stored + passed on + sewer + soil, to rounding.
 *
 * @param ownerOf - index of the lot that each cell belongs to, -1 for none.
 * @param lot - index of the lot looked at.
 * @param owners - number of lots.
 * @param displaced - roof water that is put down on the other side of the line; it crosses there and then.
 * @param depthM - standing water; its shares tell where in a pool the stored volume lies.
 * Cost: O(n + steps of the paths that leave the lot or spill).
 */
export function followLot(
  flow: Flow,
  pools: Pools,
  ownerOf: Int16Array,
  lot: number,
  owners: number,
  depthM: Float32Array,
  displaced: readonly Displaced[] = [],
): Crossings {
  const { width, receiver, catchment, passingM3 } = flow;
  const offsets = neighbourOffsets(width);
  const owner = (cell: number): number => (ownerOf[cell] === -1 ? owners : ownerOf[cell]);
  const runOn = new Float64Array(owners + 1);
  const passedOn = new Float64Array(owners + 1);
  let stored = 0;
  let sewer = 0;
  let soil = 0;

  // What each pool has received: never on the lot, now on it, and gone from it to each owner.
  const kinds = owners + 3;
  const here = owners + 2;
  const never = owners + 1;
  const mix = new Float64Array(pools.count * kinds);
  const arrive = (cell: number, parcel: Float64Array): void => {
    const pool = pools.ofCatchment[catchment[cell]];
    if (pool === -1) leave(parcel);
    else for (let kind = 0; kind < kinds; kind++) mix[pool * kinds + kind] += parcel[kind];
  };
  /** Off the map: water of the lot has then gone to no lot of the plan, other water where it went before. */
  const leave = (parcel: Float64Array): void => {
    passedOn[owners] += parcel[here];
    for (let kind = 0; kind <= owners; kind++) passedOn[kind] += parcel[kind];
  };

  /** Takes a parcel down from a cell, over the line as often as the path crosses it, to a pit or off the map. */
  const carry = (start: number, from: number, parcel: Float64Array): void => {
    let before = from;
    let cell = start;
    for (;;) {
      step(before, cell, parcel);
      const code = receiver[cell];
      if (code === NONE || code === LEAVES) break;
      before = cell;
      cell += offsets[code];
    }
    arrive(cell, parcel);
  };
  const step = (before: number, cell: number, parcel: Float64Array): void => {
    const to = owner(cell);
    if (to === lot) {
      runOn[owner(before)] += parcel[never];
      for (let kind = 0; kind < here; kind++) {
        parcel[here] += parcel[kind];
        parcel[kind] = 0;
      }
    } else if (parcel[here] !== 0) {
      parcel[to] += parcel[here];
      parcel[here] = 0;
    }
  };

  // Overland: every link over the line. All that a cell of the lot passes on has been on the lot.
  const cells = receiver.length;
  const gone = new Float64Array(kinds);
  for (let cell = 0; cell < cells; cell++) {
    const code = receiver[cell];
    const next = cell + offsets[code];
    const moves = code !== NONE && code !== LEAVES;
    if (moves && owner(cell) !== lot && owner(next) === lot) {
      runOn[owner(cell)] += passingM3[cell];
    } else if (moves && owner(cell) === lot && owner(next) !== lot && passingM3[cell] > 0) {
      followOut(cell, next, passingM3[cell]);
    } else if (!moves) {
      // A pit or the map's edge: what has arrived, less what went out and was carried here by itself.
      const pool = pools.ofCatchment[catchment[cell]];
      if (owner(cell) === lot) {
        if (pool !== -1) mix[pool * kinds + here] += passingM3[cell];
        else passedOn[owners] += passingM3[cell];
      } else if (pool !== -1) {
        mix[pool * kinds + never] += passingM3[cell];
      }
    }
  }

  for (const { cell, volumeM3, roofOwner } of displaced) {
    if (owner(cell) === lot) runOn[roofOwner] += volumeM3;
    else if (roofOwner === lot) followOut(cell, cell, volumeM3);
  }

  /** Overland water leaves the lot: it either comes back (and then never left) or ends outside. */
  function followOut(from: number, start: number, volumeM3: number): void {
    let before = from;
    let cell = start;
    for (;;) {
      if (owner(cell) === lot) {
        // Already in the lot's passing volume again; take back what the link over the line counted as run-on.
        runOn[owner(before)] -= volumeM3;
        return;
      }
      const code = receiver[cell];
      if (code === NONE || code === LEAVES) break;
      before = cell;
      cell += offsets[code];
    }
    const pool = pools.ofCatchment[catchment[cell]];
    if (pool === -1) {
      passedOn[owner(start)] += volumeM3;
    } else {
      mix[pool * kinds + owner(start)] += volumeM3;
      mix[pool * kinds + never] -= volumeM3;
    }
  }

  const drainsOf = new Map<number, Drain[]>();
  for (const drain of pools.drains) {
    drainsOf.set(drain.pool, [...(drainsOf.get(drain.pool) ?? []), drain]);
  }
  const held = heldByOwner(pools, catchment, ownerOf, owners, depthM);
  for (const pool of pools.order) {
    const at = pool * kinds;
    let total = 0;
    for (let kind = 0; kind < kinds; kind++) total += mix[at + kind];
    if (total <= 0) continue;
    for (let place = 0; place <= owners; place++) {
      const part = held[pool * (owners + 1) + place] / total;
      if (part === 0) continue;
      if (place === lot) {
        stored += part * total;
        runOn[outsideOf(pool)] += part * mix[at + never];
      } else {
        passedOn[place] += part * mix[at + here];
        for (let kind = 0; kind <= owners; kind++) passedOn[kind] += part * mix[at + kind];
      }
    }
    if (pools.spilledM3[pool] > 0) {
      const part = pools.spilledM3[pool] / total;
      for (let kind = 0; kind < kinds; kind++) gone[kind] = part * mix[at + kind];
      takeOut(pool, pools.spillFrom[pool], gone);
      carry(pools.spillTo[pool], pools.spillFrom[pool], gone);
    }
    for (const { volumeM3, inlet, outlet } of drainsOf.get(pool) ?? []) {
      const part = volumeM3 / total;
      for (let kind = 0; kind < kinds; kind++) gone[kind] = part * mix[at + kind];
      takeOut(pool, inlet, gone);
      if (typeof outlet === 'number') {
        carry(outlet, inlet, gone);
      } else {
        if (outlet === 'storm-sewer') sewer += gone[here];
        if (outlet === 'soil') soil += gone[here];
        if (outlet !== 'off-map') gone[here] = 0;
        leave(gone);
      }
    }
  }

  /** A parcel of a pool's mixture on its way out over a cell: on the lot it has then come onto it. */
  function takeOut(pool: number, over: number, parcel: Float64Array): void {
    if (owner(over) === lot) {
      runOn[outsideOf(pool)] += parcel[never];
      parcel[here] += parcel[never];
      parcel[never] = 0;
    }
    step(over, over, parcel);
  }

  /** The owner that a pool's outside water is put down to: the one on whose ground most of it stands. */
  function outsideOf(pool: number): number {
    let most = owners;
    for (let place = 0; place <= owners; place++) {
      if (place === lot) continue;
      if (held[pool * (owners + 1) + place] > held[pool * (owners + 1) + most]) most = place;
    }
    return most;
  }

  return { runOnM3: runOn, passedOnM3: passedOn, storedM3: stored, sewerM3: sewer, soilM3: soil };
}

/** Volume that each pool keeps on each owner's ground, m3; `count * (owners + 1)` values that add up to what is stored. */
function heldByOwner(
  pools: Pools,
  catchment: Int32Array,
  ownerOf: Int16Array,
  owners: number,
  depthM: Float32Array,
): Float64Array {
  const places = owners + 1;
  const held = new Float64Array(pools.count * places);
  for (let cell = 0; cell < depthM.length; cell++) {
    if (!(depthM[cell] > 0)) continue;
    const pool = pools.ofCatchment[catchment[cell]];
    if (pool === -1) continue;
    held[pool * places + (ownerOf[cell] === -1 ? owners : ownerOf[cell])] += depthM[cell];
  }
  for (let pool = 0; pool < pools.count; pool++) {
    let sum = 0;
    for (let place = 0; place < places; place++) sum += held[pool * places + place];
    for (let place = 0; place < places; place++) {
      held[pool * places + place] *= sum > 0 ? pools.storedM3[pool] / sum : 0;
    }
  }
  return held;
}
