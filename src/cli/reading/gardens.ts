import { designSurvey } from '../../../lib/basin/design/design-survey';
import { isDesigned, type DesignResult } from '../../../lib/basin/design/design-result';
import type { Survey } from '../../../lib/drainage/storm/survey-lot';
import { InputError } from '../../../lib/errors';
import { gardensOfDesign } from '../../../lib/handover/job/gardens-of-design';
import type { Garden } from '../../../lib/handover/orders/needs';
import type { Plan } from '../../../lib/plan/schema';
import type { Call } from '../command';
import { planOf, rainNotes, withRain } from './inputs';
import { sentences } from '../notes';
import { survey } from './survey';

/** The gardens of a plan as they are to be dug, for the commands that hand them over. */
export interface Gardens {
  readonly file: string;
  readonly plan: Plan;
  readonly survey: Survey;
  readonly design: DesignResult;
  readonly gardens: readonly Garden[];
  readonly notes: readonly string[];
}

/**
 * Reads the plan and elevation of a call and designs its basins.
 *
 * @throws {InputError} `no-basin`, `basin-not-dug` when none can be, and what reading and designing throw.
 */
export async function gardensOf(call: Call): Promise<Gardens> {
  const { plan: written, file, notes } = await planOf(call);
  const plan = withRain(written, call.option('rain'));
  refuseWithoutBasin(plan, file);
  const surveyed = await survey(call, plan, file);
  const { elevation, plan: local } = surveyed;
  const { design, built } = designSurvey(surveyed, call.onProgress);
  const gardens = gardensOfDesign(local, design, built);
  const notDug = design.basins.flatMap((each) =>
    isDesigned(each) ? [] : [`${each.name}: ${each.not_dug}`],
  );
  if (gardens.length === 0) {
    throw new InputError({
      code: 'basin-not-dug',
      where: file,
      problem: `no basin can be dug as drawn (${notDug.join(' ').replace(/\.$/, '')})`,
      remedy: 'move or change it',
    });
  }
  return {
    file,
    plan: local.plan,
    survey: surveyed,
    design,
    gardens,
    notes: sentences(
      notes,
      elevation.notes.map(({ text }) => text),
      rainNotes(local.plan),
      notDug,
    ),
  };
}

/** @throws {InputError} `no-basin` */
export function refuseWithoutBasin(plan: Plan, file: string): void {
  if (plan.features.some(({ properties }) => properties.kind === 'basin')) return;
  throw new InputError({
    code: 'no-basin',
    where: file,
    problem: 'there is no basin in the plan',
    remedy: "draw one, or take over a place that 'lotfall sites' finds",
  });
}
