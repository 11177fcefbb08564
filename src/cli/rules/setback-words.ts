import type { Plan } from '../../../lib/plan/schema';
import type { RuleSet } from '../../../lib/setback/rules/rule';
import type { SetbackFindings, SetbackResult } from '../../../lib/setback/judge/setback-result';
import {
  measuredWords,
  requiredWords,
  verdictWords,
} from '../../../lib/setback/judge/finding-words';
import type { Verdict } from '../../../lib/verdict';
import { formatLength } from '../../../lib/units/format';
import { noteLines } from '../notes';
import { table } from '../writing/table';
import { featureName } from '../../../lib/plan/feature-name';

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
      verdictWords[row.result],
      row.title,
      row.feature_name,
      measuredWords(row, units),
      requiredWords(row, units),
      row.margin_m === null ? '' : formatLength(row.margin_m, units),
      row.binding,
      names.get(row.basin) ?? row.basin,
    ]),
  ].map((row) => (basins.size > 1 ? row : row.slice(0, head.length)));
  const reasons = sorted
    .filter((row) => row.result !== 'pass')
    .map((row) => `${verdictWords[row.result]}: ${row.title}, ${row.feature_name}. ${row.why}`);
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

function sources(results: readonly SetbackResult[]): string[] {
  const lines = results.map(({ source: { title, publisher, year, mark } }) =>
    mark === 'common practice, no source'
      ? mark
      : `${title}, ${publisher}, ${year ?? 'undated'} (${mark})`,
  );
  return [...new Set(lines)].map((line) => `  ${line}`);
}
