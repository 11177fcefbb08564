import { expectOf } from '../../errors';
import { ownLotsQuestions } from '../../plan/own-lot';
import { isDay } from '../../plan/schema';
import { designInfiltration } from '../../soil/design-infiltration';
import { BasinSite } from './basin-site';
import { countFindings } from './count-findings';
import { concerned } from '../rules/concerned';
import { judge } from './judge';
import type { SetbackFindings, SetbackResult } from './setback-result';
import type { SetbackInput } from './setback-input';

/**
 * Checks basins against a rule set: one row for each basin, rule and feature, the least margin first.
 *
 * Distances are horizontal, in the local frame, exact to rounding. What cannot be judged answers `check` and says what
 * is missing; it never passes. A utility line without a current locate by the party whose marking counts cannot pass,
 * and since an unmarked line is not an absent one, neither can the lot until both parties have said of every service that
 * the rule expects where its lines are or that there is none in the ground to be dug.
 *
 * @throws {InputError} `day` when today is no day of the calendar.
 * Cost: for each basin the sum over features of (vertices x rim vertices), less what boxes rule out; each pair is
 * measured once however many rules look at it.
 */
export function checkSetbacks(input: SetbackInput): SetbackFindings {
  expectOf(isDay(input.today), {
    code: 'day',
    where: 'setbacks',
    problem: `'${input.today}' is no day`,
    remedy: 'write it as 2026-11-25',
  });
  const results: SetbackResult[] = [];
  const asked = input.ruleSet.rules.map((rule) => ({
    rule,
    features: 'from' in rule ? concerned(input.plan, rule.from) : [],
  }));
  for (const basin of input.basins) {
    const site = new BasinSite(input, basin);
    for (const { rule, features } of asked) judge(site, rule, features, results);
  }
  results.sort((a, b) => rank(a) - rank(b) || b.penetration_m - a.penetration_m);
  return {
    rule_set: input.ruleSet.id,
    results,
    summary: countFindings(results),
    notes: [
      ...ownLotsQuestions(input.plan.of.lot.map(({ feature }) => feature)),
      ...rateNotes(input),
    ],
  };
}

/** The sentences that belong with the soil's rate, where a rule of the set goes by it. */
function rateNotes({ ruleSet, soil, plan }: SetbackInput): readonly string[] {
  const goesByRate = ruleSet.rules.some(({ test }) => test === 'drain-down' || test === 'wet-spot');
  if (!goesByRate) return [];
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  return designInfiltration(soil, tests).notes;
}

/** Least margin first; a row without a margin stands with the failures, at nought, or last, by its result. */
function rank(row: SetbackResult): number {
  if (row.margin_m !== null) return row.margin_m;
  return row.result === 'fail' ? -Infinity : row.result === 'check' ? 0 : Infinity;
}
