import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import type { LocalPlan } from '../plan/local-plan';
import { groundWithoutBasins, swaleShape } from './ground';
import { swaleBed } from './swale';

/** The bed of a swale and the ground beside it, station by station; elevations in metres above the datum of the source. */
export interface BedAlong {
  readonly places: readonly XY[];
  /** Distance from the first point, metres. */
  readonly alongM: Float64Array;
  readonly bedM: Float64Array;
  /** `NaN` where there is none. */
  readonly groundM: Float64Array;
}

/**
 * How deep the bed of a swale lies along its line, on the ground that it is dug in: that of what comes before it.
 *
 * @param elevation - heights as read; not modified.
 * @returns `null` where the plan has no such swale.
 */
export function bedAlong(elevation: Grid, plan: LocalPlan, id: string): BedAlong | null {
  const at = plan.of.swale.findIndex((swale) => swale.id === id);
  if (at === -1) return null;
  const of = { ...plan.of, swale: plan.of.swale.slice(0, at), berm: [] };
  const grid = groundWithoutBasins(elevation, { ...plan, of });
  const { profile, bedM } = swaleBed(grid, swaleShape(plan, plan.of.swale[at]));
  const above = (heights: Float64Array): Float64Array => heights.map((z) => z + grid.datumM);
  return {
    places: profile.stations,
    alongM: profile.alongM,
    bedM: above(bedM),
    groundM: above(profile.groundM),
  };
}
