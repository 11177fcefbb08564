import { makeFrame } from '../../frame/frame';
import { levelsElevation } from '../../levels/levels-elevation';
import { toLocal } from '../../plan/local-plan';
import type { Plan } from '../../plan/schema';
import { shapeGround } from './shaped-ground';
import type { Survey } from './survey-lot';

/**
 * A lot on the ground that its own levels make, without any file of elevation.
 *
 * The levels are the ground here and correct none: they are left out of the plan that is judged, whose error of heights
 * is, where the plan does not state one, by what the levels foretell of one another.
 *
 * @param file - what to name in a sentence that refuses.
 * @throws {InputError} what `levelsElevation` throws.
 */
export function surveyLevels(named: Plan, file: string): Survey {
  const { elevation, rmseM } = levelsElevation(named, file);
  const { lotfall, features } = named;
  const plan: Plan = {
    ...named,
    lotfall: {
      ...lotfall,
      elevation: {
        source: elevation.source,
        of_levels: true,
        rmse_m: lotfall.elevation?.rmse_m ?? rmseM,
      },
    },
    features: features.filter(({ properties }) => properties.kind !== 'spot-height'),
  };
  const local = toLocal(plan, makeFrame(elevation.grid.frame));
  return { elevation, plan: local, shape: shapeGround(elevation.grid, local) };
}
