import type { LocalPlan } from '../../plan/local-plan';
import { withoutUptake } from '../storm/basin-uptake';
import { atOnce, type Steps } from '../steps';
import type { LowSpot } from './low-spots';
import { poolsAt, readyForRain } from '../storm/ponding';
import type { ShapedGround } from '../storm/shaped-ground';

/** Rain at which a low spot is full and begins to pass water on is found to within this, millimetres. */
const stepMm = 0.5;
/** Steps that are looked at: up to 512 mm, more than nearly any day brings. A power of two, so that all are halved alike. */
const steps = 1024;

/**
 * The depth of rain at which each low spot begins to spill, as the plan's kind of storm grows: the order of events.
 *
 * It belongs to the ground and hangs on no storm that is poured: what basins take into the soil while one of a certain depth lasts
 * is left out, so that theirs is the figure of the bowl alone, the earliest it can be.
 *
 * By halving: more rain never leaves a low spot less full, and the terrain is the same for every depth.
 *
 * @returns millimetres for each low spot; null for one that still has room at 512 mm.
 * Cost: a sweep over the grid for each depth looked at: ten for the first low spot and fewer for each more.
 */
export function spillOrder(
  shape: ShapedGround,
  plan: LocalPlan,
  spots: readonly LowSpot[],
): (number | null)[] {
  return atOnce(spillOrderSteps(shape, plan, spots));
}

/** The steps of `spillOrder`, one for each depth looked at. */
export function* spillOrderSteps(
  shape: ShapedGround,
  plan: LocalPlan,
  spots: readonly LowSpot[],
): Steps<(number | null)[]> {
  const ready = readyForRain(withoutUptake(shape), plan);
  const full = new Map<number, Set<number>>();
  const fullAt = (step: number): Set<number> => {
    const known = full.get(step);
    if (known !== undefined) return known;
    const { pools } = poolsAt(ready, plan, step * stepMm);
    const brimful = new Set<number>();
    for (let pool = 0; pool < pools.count; pool++) {
      if (pools.full[pool] === 1) brimful.add(pools.node[pool]);
    }
    full.set(step, brimful);
    return brimful;
  };
  const found: (number | null)[] = [];
  for (const { id } of spots) {
    const step = { fraction: found.length / spots.length, stage: 'Filling low spots' };
    let dry = 0;
    let spilling = steps;
    yield step;
    const isEverFull = fullAt(steps).has(id);
    while (isEverFull && spilling - dry > 1) {
      yield step;
      const middle = (dry + spilling) / 2;
      if (fullAt(middle).has(id)) spilling = middle;
      else dry = middle;
    }
    found.push(isEverFull ? spilling * stepMm : null);
  }
  return found;
}
