import type { LotFindings } from '../../../lib/setback/judge/check-lot';
import { lotReason } from '../../../lib/setback/judge/lot-reason';
import { sourceLine } from '../../../lib/source';
import { formatLength } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';
import type { Verdict } from '../../../lib/verdict';
import { table } from '../writing/table';

const marks: Readonly<Record<Verdict, string>> = {
  fail: '✕ fails',
  check: '? check',
  pass: '✓ meets',
};

/** The findings by the rules that need no basin, for people; what does not pass says why and whom to ask. */
export function lotWords({ results, summary }: LotFindings, units: UnitSystem): string {
  if (results.length === 0) {
    return 'No outlet, pump, swale, soakaway, watercourse or easement is drawn that the rules about drainage on the lot could look at.';
  }
  const rows = [
    ['result', 'drainage on the lot', 'at', 'to', 'measured', 'required', 'binding'],
    ...results.map((row) => [
      marks[row.result],
      row.title,
      row.feature_name,
      row.other_name,
      row.measured_m === null ? '' : formatLength(row.measured_m, units),
      row.required_m === null || row.required_m === 0 ? '' : formatLength(row.required_m, units),
      row.binding,
    ]),
  ];
  const open = results.filter((row) => row.result !== 'pass');
  return [
    table(rows, 'llllrrl'),
    ...(open.length > 0
      ? [
          [...new Set(open.map((row) => `${marks[row.result]}: ${lotReason(row, units)}`))].join(
            '\n',
          ),
        ]
      : []),
    `Drainage on the lot: ${summary.pass} met, ${summary.fail} failed, ${summary.check} to be asked about.`,
    `Sources\n${[...new Set(results.map((row) => `  ${sourceLine(row.source)}`))].join('\n')}`,
  ].join('\n\n');
}
