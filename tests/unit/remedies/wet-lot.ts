import type { Survey } from '../../../lib/drainage/storm/survey-lot';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import type { Plan, PlanFeature } from '../../../lib/plan/schema';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import { toLocal } from '../../../lib/plan/local-plan';
import { remedySteps, type RemediesQuestion } from '../../../lib/remedies/remedies';
import type { Proposal, RemediesResult } from '../../../lib/remedies/remedies-result';
import { ruleSetOf } from '../../../lib/setback/sets/rule-sets';
import { box, elevationOf, frame, groundOf, planOf, polygonOf } from '../ground/plane-lot';

/** Depth of a round hollow, metres. */
function bowl(x: number, y: number, atX: number, atY: number, radiusM: number, deepM: number) {
  const away = Math.hypot(x - atX, y - atY) / radiusM;
  return away >= 1 ? 0 : deepM * (1 - away * away);
}

/** A lot that falls to the east by 4 %, a house across the fall, a hollow at its west wall, a lot below and one above. */
export const wetHeight = (x: number, y: number): number =>
  8 - 0.04 * x - bowl(x, y, 17.5, 16, 4, 0.35);

export const wetLot: readonly PlanFeature[] = [
  polygonOf('lot', box(10, 4, 42, 28), { kind: 'lot', own: true, name: 'Home' }),
  polygonOf('above', box(0, 4, 10, 28), { kind: 'lot', own: false, name: 'Above' }),
  polygonOf('below', box(42, 4, 50, 28), { kind: 'lot', own: false, name: 'Below' }),
  polygonOf('house', box(20, 11, 27, 21), { kind: 'building', name: 'House' }),
];

/** A survey of made-up ground. */
export function surveyOf(
  features: readonly PlanFeature[],
  height: (x: number, y: number) => number = wetHeight,
  settings: Parameters<typeof planOf>[1] = { storm: { rain_mm: 40 }, elevation: { rmse_m: 0.03 } },
  cellM = 0.5,
): Survey {
  const plan = planOf(features, settings);
  return onGround(plan, height, cellM);
}

/** The same ground with another plan. */
export function surveyWith(survey: Survey, changed: Plan): Survey {
  const plan = toLocal(changed, frame);
  return { elevation: survey.elevation, plan, shape: shapeGround(survey.elevation.grid, plan) };
}

function onGround(
  plan: LocalPlan,
  height: (x: number, y: number) => number,
  cellM: number,
): Survey {
  const elevation = elevationOf(groundOf(50, 32, cellM, height));
  return { elevation, plan, shape: shapeGround(elevation.grid, plan) };
}

/** Everything a search tells, and what it comes to. */
export function searched(
  survey: Survey,
  more: Partial<RemediesQuestion> = {},
): { result: RemediesResult; told: Proposal[] } {
  const told: Proposal[] = [];
  const steps = remedySteps({
    ...survey,
    ruleSet: ruleSetOf(survey.plan.plan.lotfall),
    today: '2026-12-01',
    ...more,
  });
  for (;;) {
    const next = steps.next();
    if (next.done === true) return { result: next.value, told };
    if (next.value.proposal !== undefined) told.push(next.value.proposal);
  }
}
