import type { Elevation } from '../../../lib/elevation/window/read-window';
import { makeFrame } from '../../../lib/frame/frame';
import { bedAlong } from '../../../lib/ground/bed-along';
import { applyChange, type Change } from '../../../lib/plan/change';
import { toLocal } from '../../../lib/plan/local-plan';
import type { Plan } from '../../../lib/plan/schema';
import type { Steps } from '../../../lib/drainage/steps';
import type { BedPicture, RemedyPicture } from './analysis-api';
import { PlanWater } from './plan-water';

/** Follows the water of a plan with a change that is not in it yet. */
export function* remedyPictureSteps(
  elevation: Elevation,
  plan: Plan,
  change: Change,
): Steps<RemedyPicture> {
  const frame = makeFrame(elevation.grid.frame);
  const local = toLocal(applyChange(plan, change).plan, frame);
  const water = yield* new PlanWater(elevation).waterSteps(local);
  const swales = (change.puts ?? []).filter(({ properties }) => properties.kind === 'swale');
  const beds = swales.flatMap(({ id }): BedPicture[] => {
    const bed = bedAlong(elevation.grid, local, id);
    if (bed === null) return [];
    const { places, ...heights } = bed;
    return [{ id, places: places.map((at) => frame.toLngLat(at)), ...heights }];
  });
  return { water, beds };
}
