import { observedWater, type ObservedRow } from '../../drainage/answer/observed-water';
import { checkLot, type LotFinding } from '../../setback/judge/check-lot';
import { ruleSets } from '../../setback/sets/rule-sets';
import { eventDepthMm } from '../../storm/event-depth';
import type { SheetFacts } from './sheet-facts';

/** What is known of water at the line of the own lot beside what all sheets show. */
export interface LineFacts {
  /** Water that somebody saw beside what is reckoned; empty without elevation. */
  readonly seen: readonly ObservedRow[];
  /** Rules about drainage that need no garden, for what to ask whom. */
  readonly toAsk: readonly LotFinding[];
}

/** Cost: that of a storm for each depth of rain that was seen. */
export function lineFacts({ plan, survey, ruleSet }: SheetFacts): LineFacts {
  const seen =
    survey === null
      ? []
      : observedWater(survey.shape, survey.plan, eventDepthMm(plan.plan.lotfall));
  const { results } = checkLot(plan, ruleSet, ruleSets[0].lot_rules ?? []);
  return { seen, toAsk: results };
}
