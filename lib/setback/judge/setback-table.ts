import { csv } from '../../tables/write-csv';
import type { SetbackResult } from './setback-result';

const columns = [
  'basin',
  'rule',
  'title',
  'binding',
  'feature',
  'feature_name',
  'required_m',
  'measured_m',
  'margin_m',
  'required_slope',
  'measured_slope',
  'result',
  'why',
  'published',
  'source',
  'accuracy_m',
  'penetration_m',
  'required_h',
  'measured_h',
  'required_depth_m',
  'measured_depth_m',
] as const;

/** The rows of a setback check as CSV (RFC 4180), lengths in metres to the millimetre. */
export function setbackTable(results: readonly SetbackResult[]): string {
  return csv([columns, ...results.map(cellsOf)]);
}

/** The rows of several plans' checks as one CSV, the plan's name first. */
export function setbackTables(
  plans: readonly { readonly plan: string; readonly results: readonly SetbackResult[] }[],
): string {
  return csv([
    ['plan', ...columns],
    ...plans.flatMap(({ plan, results }) => results.map((row) => [plan, ...cellsOf(row)])),
  ]);
}

function cellsOf(row: SetbackResult): string[] {
  return [
    row.basin,
    row.rule,
    row.title,
    row.binding,
    row.feature ?? '',
    row.feature_name,
    figure(row.required_m),
    figure(row.measured_m),
    figure(row.margin_m),
    figure(row.required_slope),
    figure(row.measured_slope),
    row.result,
    row.why,
    row.published,
    `${row.source.title}, ${row.source.publisher}${row.source.year === null ? '' : `, ${row.source.year}`} (${row.source.mark})`,
    figure(row.accuracy_m),
    figure(row.penetration_m),
    figure(row.required_h),
    figure(row.measured_h),
    figure(row.required_depth_m),
    figure(row.measured_depth_m),
  ];
}

function figure(value: number | null): string {
  return value === null ? '' : value.toFixed(3);
}
