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
] as const;

/** The rows of a setback check as CSV (RFC 4180), lengths in metres to the millimetre. */
export function setbackTable(results: readonly SetbackResult[]): string {
  const rows = results.map((row) => [
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
  ]);
  return [columns, ...rows].map((cells) => cells.map(quoted).join(',')).join('\r\n') + '\r\n';
}

function figure(value: number | null): string {
  return value === null ? '' : value.toFixed(3);
}

/** A leading formula sign is defused, so that a spreadsheet shows a name as it is. */
function quoted(cell: string): string {
  const safe = /^[=+@]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
