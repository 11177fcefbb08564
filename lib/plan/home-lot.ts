import { centroid, contains, type Ring } from '../frame/shapes';
import type { LocalFeature, LocalPlan } from './local-plan';

/**
 * The lot that a basin lies on: the one with most of its corners, of equals the one with its middle, of those the one that
 * comes first in the plan. `undefined` off all lots.
 */
export function homeLot({ of }: Pick<LocalPlan, 'of'>, rim: Ring): LocalFeature<'lot'> | undefined {
  const middle = centroid([rim]);
  const held = (lot: LocalFeature<'lot'>): number =>
    rim.filter((corner) => contains(lot.shape.rings, corner)).length +
    (contains(lot.shape.rings, middle) ? 0.5 : 0);
  let best: LocalFeature<'lot'> | undefined;
  let most = 0;
  for (const lot of of.lot) {
    const here = held(lot);
    if (here > most) [best, most] = [lot, here];
  }
  return best;
}
