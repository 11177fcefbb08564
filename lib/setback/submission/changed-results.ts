import { assert } from '../../errors';
import type { Verdict } from '../../verdict';
import type { LotFindings } from '../judge/check-lot';
import type { SetbackFindings } from '../judge/setback-result';
import type { Binding } from '../rules/rule';

/** A rule that answers otherwise than for the earlier plan. Field names are those of the JSON output. */
export interface ResultDifference {
  readonly rule: string;
  readonly title: string;
  readonly binding: Binding;
  /** `null` for the drainage of the lot. */
  readonly basin: string | null;
  readonly feature: string | null;
  readonly feature_name: string;
  /** `null` where the rule had nothing to look at there. */
  readonly from: Verdict | null;
  readonly to: Verdict | null;
  readonly measured_m_from: number | null;
  readonly measured_m_to: number | null;
}

/** How the results of one check of a lot differ from those of an earlier one. */
export interface ResultsDifference {
  /** Those whose result is another, new or gone; what got worse first. */
  readonly results: readonly ResultDifference[];
  /** Those that answer the same at another distance. */
  readonly measured: readonly ResultDifference[];
}

interface Judged {
  readonly findings: SetbackFindings;
  readonly lot: LotFindings;
}

type Row = Omit<ResultDifference, 'from' | 'to' | 'measured_m_from' | 'measured_m_to'> & {
  readonly key: string;
  readonly result: Verdict;
  readonly measuredM: number | null;
};

/** Distances that differ by less are the same, metres. */
const sameM = 0.0005;

export function changedResults(earlier: Judged, now: Judged): ResultsDifference {
  const before = new Map(rowsOf(earlier).map((row) => [row.key, row]));
  const after = new Map(rowsOf(now).map((row) => [row.key, row]));
  const keys = new Set([...before.keys(), ...after.keys()]);
  const all = [...keys].map((key) => difference(before.get(key), after.get(key)));
  return {
    results: all.filter(({ from, to }) => from !== to).sort((a, b) => worsening(b) - worsening(a)),
    measured: all.filter(
      ({ from, to, measured_m_from: was, measured_m_to: is }) =>
        from === to && was !== null && is !== null && Math.abs(is - was) > sameM,
    ),
  };
}

function difference(was: Row | undefined, is: Row | undefined): ResultDifference {
  const row = is ?? was;
  assert(row !== undefined, 'a result of neither plan');
  return {
    rule: row.rule,
    title: row.title,
    binding: row.binding,
    basin: row.basin,
    feature: row.feature,
    feature_name: row.feature_name,
    from: was?.result ?? null,
    to: is?.result ?? null,
    measured_m_from: was?.measuredM ?? null,
    measured_m_to: is?.measuredM ?? null,
  };
}

const badness: Readonly<Record<Verdict, number>> = { pass: 0, check: 1, fail: 2 };

/** How much worse it got, binding rules before others; what is gone got no worse. */
function worsening({ from, to, binding }: ResultDifference): number {
  const step = (to === null ? 0 : badness[to]) - (from === null ? 0 : badness[from]);
  return step * 2 + Math.sign(step) * Number(binding === 'must');
}

function rowsOf({ findings, lot }: Judged): Row[] {
  return [
    ...findings.results.map(
      ({ rule, title, binding, basin, feature, feature_name, result, measured_m }): Row => ({
        key: JSON.stringify(['basin', rule, basin, feature ?? feature_name]),
        ...{ rule, title, binding, basin, feature, feature_name, result },
        measuredM: measured_m,
      }),
    ),
    ...lot.results.map(
      ({ rule, title, binding, feature, feature_name, other, result, measured_m }): Row => ({
        key: JSON.stringify(['lot', rule, feature, other]),
        ...{ rule, title, binding, basin: null, feature, feature_name, result },
        measuredM: measured_m,
      }),
    ),
  ];
}
