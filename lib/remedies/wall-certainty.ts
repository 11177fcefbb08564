import { certainty, prepareCertainty } from '../drainage/certainty/certainty';
import { errorsOf } from '../drainage/height-error/error-defaults';
import type { Grid } from '../elevation/grid';
import type { LocalPlan } from '../plan/local-plan';

/** A wall counts as wet from this length on, metres. Our choice, no source. */
export const wetFromM = 1;
/** The same surfaces for all proposals, so that they differ by what is dug alone. */
const seed = 1;

/**
 * How likely water stands against each building of a plan, over equally likely surfaces.
 *
 * @returns for each building the part of the surfaces on which a metre of its walls or more is wet.
 * Cost: ground, terrain, routing and storm for each surface.
 */
export function wallCertainty(
  elevation: Grid,
  plan: LocalPlan,
  rainMm: number,
  surfaces: number,
): { readonly id: string; readonly probability: number }[] {
  const rmseM = plan.plan.lotfall.elevation?.rmse_m;
  const errors = errorsOf(elevation.cellM, rmseM === undefined ? {} : { rmseM });
  const study = prepareCertainty({ elevation, plan, rainMm, errors, seed });
  const { wetWallM } = certainty(study, { from: 0, to: surfaces });
  const { buildings } = study;
  return buildings.map((id, i) => {
    let wet = 0;
    for (let row = 0; row < surfaces; row++) {
      if (wetWallM[row * buildings.length + i] >= wetFromM) wet++;
    }
    return { id, probability: wet / surfaces };
  });
}
