import type { Survey } from '../../drainage/storm/survey-lot';
import { groundWithoutBasins } from '../../ground/ground';
import type { LocalPlan } from '../../plan/local-plan';
import { checkSetbacks } from '../judge/check-setbacks';
import type { SetbackFindings } from '../judge/setback-result';
import { clearLocates } from '../locate/locates';
import type { CheckedBasin } from '../rules/checked-basins';
import type { RuleSet } from '../rules/rule';
import { waterAtBasins, type WaterAtBasins } from './water-at-basins';

/** A plan's basins, what they are checked by, and the ground that they lie on, where there is elevation. */
export interface OnGround {
  readonly local: LocalPlan;
  readonly basins: readonly CheckedBasin[];
  readonly ruleSet: RuleSet;
  readonly survey: Survey | null;
}

/**
 * Checks a plan's basins with all that the ground tells of their water.
 *
 * @param today - ISO date on which locates must be current.
 * Cost: that of `waterAtBasins`.
 */
export function checkedOnGround(
  { local, basins, ruleSet, survey }: OnGround,
  today: string,
): { readonly findings: SetbackFindings; readonly water: WaterAtBasins | null } {
  const water = survey === null ? null : waterAtBasins(survey, ruleSet);
  const findings = checkSetbacks({
    plan: local,
    basins: basins.map((basin) => ({
      ...basin,
      ...water?.overflow.get(basin.id),
      drainDownH: water?.drainDownH.get(basin.id),
    })),
    ruleSet,
    elevation: survey === null ? undefined : groundWithoutBasins(survey.elevation.grid, local),
    locates: clearLocates(local),
    today,
    soil: local.plan.lotfall.soil,
    standing: water?.standing,
  });
  return { findings, water };
}
