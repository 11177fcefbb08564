import type { Flow, Pools } from './lot-ledger';
import { LEAVES, neighbourOffsets, NONE } from './neighbours';
import { drownedShare } from './single-flow-reach';

/**
 * Share of each cell's run-off that reaches a target in one storm: what low spots on the way hold back at the
 * end of the storm does not arrive, and what conduits carry arrives where they lead. Single flow, as the storm itself is routed.
 *
 * @param isTarget - 1 for the target's cells.
 * @param options.depthM - standing water by cell; where given, a pool that covers half of the target is one water with it, and all
 *   that comes to that pool has reached it, wherever it fell in.
 * @param options.throughDrains - whether what conduits carry counts where they lead; else it counts nowhere.
 * @returns 0 to 1 for each cell, 1 in the target.
 * Cost: O(n).
 */
export function stormShare(
  flow: Pick<Flow, 'width' | 'receiver' | 'catchment'>,
  pools: Pools,
  isTarget: Uint8Array,
  { throughDrains = true, depthM }: { throughDrains?: boolean; depthM?: Float32Array } = {},
): Float32Array<ArrayBuffer> {
  const { receiver, catchment, width } = flow;
  const offsets = neighbourOffsets(width);
  const share = new Float32Array(receiver.length).fill(-1);
  const arrives = new Float64Array(pools.count);
  const drowns = depthM === undefined ? null : drowningPools(flow, pools, isTarget, depthM);

  /** Follows the path down to what is known, and writes it back along the path. */
  const settle = (start: number): number => {
    let cell = start;
    let found = share[cell];
    while (found < 0) {
      if (isTarget[cell] === 1) found = 1;
      else if (receiver[cell] === NONE) found = poolShare(catchment[cell]);
      else if (receiver[cell] === LEAVES) found = 0;
      else {
        cell += offsets[receiver[cell]];
        found = share[cell];
      }
    }
    for (let at = start; share[at] < 0; at += offsets[receiver[at]]) {
      share[at] = found;
      if (at === cell) break;
    }
    return found;
  };
  const poolShare = (number: number): number => {
    const pool = pools.ofCatchment[number];
    return pool === -1 ? 0 : arrives[pool];
  };

  // Downstream pools first: where a pool's water goes is then known.
  const sent = new Float64Array(pools.count);
  const left = new Float64Array(pools.count);
  for (const { pool, volumeM3 } of pools.drains) left[pool] += volumeM3;
  for (let at = pools.count - 1; at >= 0; at--) {
    const pool = pools.order[at];
    if (drowns?.[pool] === 1) {
      arrives[pool] = 1;
      continue;
    }
    const spilled = pools.spilledM3[pool];
    const to = pools.spillTo[pool];
    if (spilled > 0 && to !== -1) sent[pool] += spilled * settle(to);
    if (throughDrains && left[pool] > 0) {
      for (const drain of pools.drains) {
        if (drain.pool !== pool || typeof drain.outlet !== 'number') continue;
        sent[pool] += drain.volumeM3 * settle(drain.outlet);
      }
    }
    const whole = spilled + left[pool] + pools.storedM3[pool];
    arrives[pool] = whole > 0 ? sent[pool] / whole : 0;
  }
  for (let cell = 0; cell < share.length; cell++) if (share[cell] < 0) settle(cell);
  return share;
}

/** 1 for pools that cover the target as they stand. */
function drowningPools(
  { catchment }: Pick<Flow, 'catchment'>,
  pools: Pools,
  isTarget: Uint8Array,
  depthM: Float32Array,
): Uint8Array {
  const covered = new Int32Array(pools.count);
  let cells = 0;
  for (let cell = 0; cell < isTarget.length; cell++) {
    if (isTarget[cell] === 0) continue;
    cells++;
    const pool = pools.ofCatchment[catchment[cell]];
    if (pool !== -1 && depthM[cell] > 0) covered[pool]++;
  }
  return Uint8Array.from(covered, (count) => (count >= drownedShare * cells ? 1 : 0));
}
