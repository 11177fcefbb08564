import type { Elevation } from '../../../lib/elevation/window/read-window';
import { makeFrame, type LngLat } from '../../../lib/frame/frame';
import { bedAlong } from '../../../lib/ground/bed-along';
import { applyChange, type Change } from '../../../lib/plan/change';
import { toLocal } from '../../../lib/plan/local-plan';
import type { Plan } from '../../../lib/plan/schema';
import type { Steps } from '../../../lib/drainage/steps';
import type { WaterPicture } from './analysis-api';
import { PlanWater } from './plan-water';

/** The bed of a swale that would be dug, station by station; elevations in metres above the datum of the source. */
export interface BedPicture {
  /** Of the swale. */
  readonly id: string;
  readonly places: readonly LngLat[];
  /** Distance from the first point, metres. */
  readonly alongM: Float64Array;
  readonly bedM: Float64Array;
  /** `NaN` where there is none. */
  readonly groundM: Float64Array;
}

/** A plan with a proposal taken into it, ready to be drawn. */
export interface RemedyPicture {
  readonly water: WaterPicture;
  readonly beds: readonly BedPicture[];
}

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
