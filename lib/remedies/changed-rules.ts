import type { Survey } from '../drainage/storm/survey-lot';
import type { LocalPlan } from '../plan/local-plan';
import { checkLot } from '../setback/judge/check-lot';
import { checkedBasins } from '../setback/rules/checked-basins';
import type { RuleSet } from '../setback/rules/rule';
import { ruleSets } from '../setback/sets/rule-sets';
import { checkedOnGround } from '../setback/water/checked-on-ground';
import type { Source } from '../source';
import type { Verdict } from '../verdict';
import type { RemedyRule } from './part';

interface RuleVerdict {
  readonly rule: string;
  readonly title: string;
  readonly result: Verdict;
  readonly why: string;
  readonly source: Source;
}

/** What a rule set says, as rows by what they are about. */
export type Verdicts = ReadonlyMap<string, RuleVerdict>;

/** Checks the basins of a plan on its ground. Cost: that of their design. */
export function basinVerdicts(survey: Survey, ruleSet: RuleSet, today: string): Verdicts {
  const { plan: local } = survey;
  const at = { local, basins: checkedBasins(local), ruleSet, survey };
  const { findings } = checkedOnGround(at, today);
  return new Map(
    findings.results.map((row) => [`${row.basin} ${row.rule} ${row.feature ?? ''}`, row]),
  );
}

/** Checks outlets, what must stay open and water that is gathered over lines, by the rules that need no basin. */
export function lotVerdicts(plan: LocalPlan, ruleSet: RuleSet): Verdicts {
  const { results } = checkLot(plan, ruleSet, ruleSets[0].lot_rules ?? []);
  return new Map(
    results.map((row) => [`${row.rule} ${row.feature ?? ''} ${row.other ?? row.other_name}`, row]),
  );
}

/** What a change breaks, leaves open or mends of the rules; what stays as it was is not said. */
export function changedRules(before: Verdicts, after: Verdicts): RemedyRule[] {
  return [...after].flatMap(([key, row]): RemedyRule[] => {
    const was = before.get(key)?.result;
    if (was === row.result || (was === undefined && row.result === 'pass')) return [];
    const isBetter = row.result === 'pass' || (row.result === 'check' && was === 'fail');
    return [
      {
        rule: row.rule,
        result: isBetter ? 'pass' : row.result,
        why: isBetter ? `${row.title} is now met.` : `${row.title}: ${row.why}`,
        source: row.source,
      },
    ];
  });
}
