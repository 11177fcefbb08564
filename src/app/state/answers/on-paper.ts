import { frameAround } from '../../../../lib/frame/frame-around';
import { InputError } from '../../../../lib/errors';
import { onPaper, type OnPaper } from '../../../../lib/paper/on-paper';
import { toLocal } from '../../../../lib/plan/local-plan';
import { planArea } from '../../../../lib/plan/plan-area';
import type { Plan } from '../../../../lib/plan/schema';
import { checkLot, type LotFindings } from '../../../../lib/setback/judge/check-lot';
import { ruleSetOf, ruleSets } from '../../../../lib/setback/sets/rule-sets';

const known = new WeakMap<Plan, OnPaper | string | null>();

/**
 * What a plan says before the heights of its ground are known; a sentence where its levels do not fit one another, null
 * while nothing is drawn.
 *
 * Cost: O(1) for a plan that was asked about before.
 */
export function paperOf(plan: Plan): OnPaper | string | null {
  const before = known.get(plan);
  if (before !== undefined) return before;
  const answer = answered(plan);
  known.set(plan, answer);
  return answer;
}

function answered(plan: Plan): OnPaper | string | null {
  const area = planArea(plan);
  if (area === null) return null;
  try {
    return onPaper(toLocal(plan, frameAround(area)), 'The plan');
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}

/** What the rules that need no basin say of a plan; null while nothing is drawn. */
export function lotFindingsOf(plan: Plan): LotFindings | null {
  const area = planArea(plan);
  if (area === null) return null;
  return checkLot(
    toLocal(plan, frameAround(area)),
    ruleSetOf(plan.lotfall),
    ruleSets[0].lot_rules ?? [],
  );
}
