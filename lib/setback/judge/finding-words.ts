import { formatLength, formatSlope } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import type { Verdict } from '../../verdict';
import type { SetbackResult } from './setback-result';

/** A result as a mark and a word: neither colour nor mark has to carry it alone. */
export const verdictWords: Readonly<Record<Verdict, string>> = {
  fail: '✕ fails',
  check: '? check',
  pass: '✓ meets',
};

/** What was measured, in the user's units; empty where the rule is not about a figure. */
export function measuredWords(row: SetbackResult, units: UnitSystem): string {
  if (row.measured_m !== null) return formatLength(row.measured_m, units);
  if (row.measured_h !== null) return hoursWords(row.measured_h);
  if (row.measured_depth_m !== null) return formatLength(row.measured_depth_m, units);
  return row.measured_slope === null ? '' : formatSlope(row.measured_slope);
}

/** What is asked for. A distance of nought is that of rules which forbid lying over something. */
export function requiredWords(row: SetbackResult, units: UnitSystem): string {
  if (row.required_m === 0) return 'not over';
  if (row.required_m !== null) return formatLength(row.required_m, units);
  const sign = row.limit === 'most' ? '≤' : '≥';
  if (row.required_h !== null) return `${sign} ${hoursWords(row.required_h)}`;
  if (row.required_depth_m !== null) return `${sign} ${formatLength(row.required_depth_m, units)}`;
  return row.required_slope === null ? '' : `${sign} ${formatSlope(row.required_slope)}`;
}

function hoursWords(value: number): string {
  return `${value < 10 ? value.toFixed(1) : value.toFixed(0)} h`;
}
