import type { SetbackResult } from '../../../../lib/setback/judge/setback-result';
import type { Verdict } from '../../../../lib/verdict';

/** Which rows of the table of rules are shown; `null` for all. */
export interface RowFilter {
  readonly result: Verdict | null;
  readonly rule: string | null;
  /** Kind of the feature. */
  readonly kind: string | null;
  readonly basin: string | null;
}

export const everyRow: RowFilter = { result: null, rule: null, kind: null, basin: null };

/** Whether a row is shown. */
export function passes(filter: RowFilter, row: SetbackResult, kind: string): boolean {
  return (
    (filter.result === null || row.result === filter.result) &&
    (filter.rule === null || row.rule === filter.rule) &&
    (filter.kind === null || kind === filter.kind) &&
    (filter.basin === null || row.basin === filter.basin)
  );
}
