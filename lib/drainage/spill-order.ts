import type { LocalPlan } from '../plan/local-plan';
import type { LowSpot } from './low-spots';
import type { ShapedGround } from './shaped-ground';
import { poolsAt, readyForRain } from './ponding';

/** Rain at which a low spot is full and begins to pass water on is found to within this, millimetres. */
const toleranceMm = 0.5;

/**
 * The depth of rain at which each low spot begins to spill, as the same storm grows: the order of events.
 *
 * By halving: more rain never leaves a low spot less full, and the terrain is the same for every depth.
 *
 * @param upToMm - rain looked at.
 * @returns millimetres for each low spot; null for one that still has room at `upToMm`.
 * Cost: a sweep over the grid for each depth looked at: about a dozen and a half for the first low spot and fewer for each more.
 */
export function spillOrder(
  shape: ShapedGround,
  plan: LocalPlan,
  spots: readonly LowSpot[],
  upToMm: number,
): (number | null)[] {
  const ready = readyForRain(shape, plan);
  const full = new Map<number, Set<number>>();
  const fullAt = (rainMm: number): Set<number> => {
    const known = full.get(rainMm);
    if (known !== undefined) return known;
    const { pools } = poolsAt(ready, plan, rainMm);
    const found = new Set<number>();
    for (let pool = 0; pool < pools.count; pool++) {
      if (pools.full[pool] === 1) found.add(pools.node[pool]);
    }
    full.set(rainMm, found);
    return found;
  };
  return spots.map(({ id }) => {
    if (!fullAt(upToMm).has(id)) return null;
    let dry = 0;
    let spilling = upToMm;
    while (spilling - dry > toleranceMm) {
      const middle = (dry + spilling) / 2;
      if (fullAt(middle).has(id)) spilling = middle;
      else dry = middle;
    }
    return spilling;
  });
}
