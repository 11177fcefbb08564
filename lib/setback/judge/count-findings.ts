import type { Verdict } from '../../verdict';
import type { Binding } from '../rules/rule';
import type { FindingCounts } from './setback-result';

/** Counts results by what they say and by how binding their rules are. */
export function countFindings(
  results: readonly { readonly result: Verdict; readonly binding: Binding }[],
): FindingCounts {
  const count = (result: Verdict, onlyMust = false): number =>
    results.filter((row) => row.result === result && (!onlyMust || row.binding === 'must')).length;
  return {
    pass: count('pass'),
    fail: count('fail'),
    check: count('check'),
    must_fail: count('fail', true),
    must_check: count('check', true),
  };
}

/** How a plan stands to a reviewer: a binding rule fails, one could not be judged, or all are met. */
export type PlanState = 'fails' | 'unjudged' | 'meets';

/** The state that some counts together amount to. */
export function planState(...counts: readonly FindingCounts[]): PlanState {
  if (counts.some(({ must_fail }) => must_fail > 0)) return 'fails';
  return counts.some(({ must_check }) => must_check > 0) ? 'unjudged' : 'meets';
}
