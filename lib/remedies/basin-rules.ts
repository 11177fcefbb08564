import type { Survey } from '../drainage/storm/survey-lot';
import { checkedBasins } from '../setback/rules/checked-basins';
import type { RuleSet } from '../setback/rules/rule';
import type { SetbackResult } from '../setback/judge/setback-result';
import { checkedOnGround } from '../setback/water/checked-on-ground';
import type { RemedyRule } from './part';

/** What a rule set says of each basin, as rows by what they are about. */
export type BasinVerdicts = ReadonlyMap<string, SetbackResult>;

/** Checks the basins of a plan on its ground. Cost: that of their design. */
export function basinVerdicts(survey: Survey, ruleSet: RuleSet, today: string): BasinVerdicts {
  const { plan: local } = survey;
  const at = { local, basins: checkedBasins(local), ruleSet, survey };
  const { findings } = checkedOnGround(at, today);
  return new Map(findings.results.map((row) => [rowKey(row), row]));
}

/** What a change breaks, leaves open or mends of the rules for basins; what stays as it was is not said. */
export function basinRules(before: BasinVerdicts, after: BasinVerdicts): RemedyRule[] {
  return [...after].flatMap(([key, row]): RemedyRule[] => {
    const was = before.get(key)?.result;
    if (was === row.result || (was === undefined && row.result === 'pass')) return [];
    const isBetter = row.result === 'pass' || (row.result === 'check' && was === 'fail');
    return [
      {
        rule: `basin ${row.rule}`,
        result: isBetter ? 'pass' : row.result,
        why: isBetter ? `${row.title} is now met.` : `${row.title}: ${row.why}`,
        source: row.source,
      },
    ];
  });
}

function rowKey({ basin, rule, feature }: SetbackResult): string {
  return `${basin} ${rule} ${feature ?? ''}`;
}
