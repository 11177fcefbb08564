import type { Plan } from '../../lib/plan/schema';
import type { RuleSet } from '../../lib/setback/rules/rule';
import type { SetbackFindings, SetbackResult } from '../../lib/setback/judge/setback-result';
import type { Verdict } from '../../lib/verdict';
import { formatLength, formatSlope } from '../../lib/units/format';
import type { UnitSystem } from '../../lib/units/units';
import { noteLines } from './notes';
import { table } from './table';
import { featureName } from '../../lib/plan/feature-name';

const marks: Readonly<Record<Verdict, string>> = {
  fail: '✕ fails',
  check: '? check',
  pass: '✓ meets',
};
const order: readonly Verdict[] = ['fail', 'check', 'pass'];

export interface AboutCheck {
  readonly plan: Plan;
  readonly ruleSet: RuleSet;
  readonly today: string;
  readonly notes: readonly string[];
}

/** The findings on one plan for people: every row, why what does not pass does not, the count, the sources. */
export function setbackWords({ results, summary }: SetbackFindings, about: AboutCheck): string {
  const { plan, ruleSet, today, notes } = about;
  const units = plan.lotfall.units ?? 'metric';
  const basins = new Set(results.map((row) => row.basin));
  const names = new Map(plan.features.map((feature) => [feature.id, featureName(feature)]));
  const sorted = order.flatMap((result) => results.filter((row) => row.result === result));
  const head = ['result', 'rule', 'at', 'measured', 'required', 'margin', 'binding'];
  const rows = [
    [...head, 'basin'],
    ...sorted.map((row) => [
      marks[row.result],
      row.title,
      row.feature_name,
      measured(row, units),
      required(row, units),
      row.margin_m === null ? '' : formatLength(row.margin_m, units),
      row.binding,
      names.get(row.basin) ?? row.basin,
    ]),
  ].map((row) => (basins.size > 1 ? row : row.slice(0, head.length)));
  const reasons = sorted
    .filter((row) => row.result !== 'pass')
    .map((row) => `${marks[row.result]}: ${row.title}, ${row.feature_name}. ${row.why}`);
  const must = summary.must_fail;
  return [
    table(rows, 'lllrrrll'),
    ...(reasons.length > 0 ? [[...new Set(reasons)].join('\n')] : []),
    `${ruleSet.title} (${ruleSet.id}), locates as of ${today}: ${summary.pass} met, ${summary.fail} failed${
      summary.fail > 0 ? ` (${must} of them binding)` : ''
    }, ${summary.check} cannot be judged. ${localCode(ruleSet)}`,
    `Sources\n${sources(sorted).join('\n')}`,
    ...(notes.length > 0 ? [noteLines(notes)] : []),
  ].join('\n\n');
}

/** One line for each plan of several, the worst first. */
export function summaryWords(
  plans: readonly { readonly file: string; readonly found: SetbackFindings | null }[],
): string {
  const worst = (found: SetbackFindings | null): number =>
    found === null ? Infinity : found.summary.must_fail * 1e6 + found.summary.fail;
  const sorted = [...plans].sort((a, b) => worst(b.found) - worst(a.found));
  const checked = plans.flatMap(({ found }) => found ?? []);
  const failing = checked.filter(({ summary }) => summary.must_fail > 0).length;
  const unread = plans.length - checked.length;
  return [
    table(
      [
        ['plan', 'met', 'failed', 'binding', 'cannot be judged', ''],
        ...sorted.map(({ file, found }) =>
          found === null
            ? [file, '', '', '', '', '✕ not checked']
            : [
                file,
                String(found.summary.pass),
                String(found.summary.fail),
                String(found.summary.must_fail),
                String(found.summary.check),
                found.summary.must_fail > 0
                  ? '✕ breaks a binding rule'
                  : found.summary.check > 0
                    ? '? not all judged'
                    : '✓ keeps every binding rule',
              ],
        ),
      ],
      'lrrrrl',
    ),
    `${plans.length} plans: ${failing} break a binding rule${unread > 0 ? `, ${unread} could not be checked` : ''}. Local code governs.`,
  ].join('\n\n');
}

/** A set of the program's says at length what the summary says in three words. */
function localCode({ note }: RuleSet): string {
  return note.startsWith('Local code governs')
    ? 'Local code governs.'
    : `${note} Local code governs.`;
}

function measured(row: SetbackResult, units: UnitSystem): string {
  if (row.measured_m !== null) return formatLength(row.measured_m, units);
  if (row.measured_h !== null) return hours(row.measured_h);
  if (row.measured_depth_m !== null) return formatLength(row.measured_depth_m, units);
  return row.measured_slope === null ? '' : formatSlope(row.measured_slope);
}

/** A distance of nought is that of rules which forbid lying over something. */
function required(row: SetbackResult, units: UnitSystem): string {
  if (row.required_m === 0) return 'not over';
  if (row.required_m !== null) return formatLength(row.required_m, units);
  const sign = row.limit === 'most' ? '≤' : '≥';
  if (row.required_h !== null) return `${sign} ${hours(row.required_h)}`;
  if (row.required_depth_m !== null) return `${sign} ${formatLength(row.required_depth_m, units)}`;
  return row.required_slope === null ? '' : `${sign} ${formatSlope(row.required_slope)}`;
}

function hours(value: number): string {
  return `${value < 10 ? value.toFixed(1) : value.toFixed(0)} h`;
}

function sources(results: readonly SetbackResult[]): string[] {
  const lines = results.map(({ source: { title, publisher, year, mark } }) =>
    mark === 'common practice, no source'
      ? mark
      : `${title}, ${publisher}, ${year ?? 'undated'} (${mark})`,
  );
  return [...new Set(lines)].map((line) => `  ${line}`);
}
