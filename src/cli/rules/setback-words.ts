import type { Plan } from '../../../lib/plan/schema';
import type { RuleSet } from '../../../lib/setback/rules/rule';
import type { SetbackFindings, SetbackResult } from '../../../lib/setback/judge/setback-result';
import {
  measuredWords,
  requiredWords,
  verdictWords,
} from '../../../lib/setback/judge/finding-words';
import type { MadeFrom } from '../../../lib/setback/judge/made-from';
import type { PlanRow } from '../../../lib/setback/judge/setback-table';
import { sourceLine } from '../../../lib/source';
import type { Verdict } from '../../../lib/verdict';
import { formatLength } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';
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
  const head = ['result', 'mark', 'rule', 'at', 'measured', 'required', 'margin', 'binding'];
  const rows = [
    [...head, 'basin'],
    ...sorted.map((row) => [
      verdictWords[row.result],
      row.letter,
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
  return [
    table(rows, 'llllrrrll'),
    ...(reasons.length > 0 ? [[...new Set(reasons)].join('\n')] : []),
    `${ruleSet.title} (${ruleSet.id}), locates as of ${today}: ${summary.pass} met, ${summary.fail} failed${
      summary.fail > 0 ? ` (${summary.must_fail} of them binding)` : ''
    }, ${summary.check} cannot be judged${
      summary.check > 0 ? ` (${summary.must_check} of them binding)` : ''
    }. ${localCode(ruleSet)}`,
    `What was measured\n${measuredLines(sorted, units).join('\n')}`,
    `Sources\n${sources(sorted).join('\n')}`,
    ...(notes.length > 0 ? [noteLines(notes)] : []),
  ].join('\n\n');
}

/** Of each rule: its mark, from where to where it was measured, what it asks for, and what was assumed for it. */
function measuredLines(results: readonly SetbackResult[], units: UnitSystem): string[] {
  const lines = results.flatMap((row) => {
    const { measured_from: from, measured_to: to, edge_offset_m: offsetM } = row;
    if (from === null) return [];
    const offset =
      offsetM === null || offsetM === 0
        ? ''
        : `, ${formatLength(Math.abs(offsetM), units)} ${offsetM > 0 ? 'outside' : 'inside'} the rim`;
    const way = to === null ? '' : ` to ${to}`;
    const taken = row.assumed.length === 0 ? '' : ` ${row.assumed.join(' ')}`;
    const section = row.source.section === undefined ? '' : `; ${row.source.section}`;
    return [
      `  ${row.letter.padEnd(2)}  ${row.title}: from ${from}${offset}${way}. Asked for: ${row.published}${section}.${taken}`,
    ];
  });
  return [...new Set(lines)].sort();
}

const stateWords: Readonly<Record<PlanRow['state'], string>> = {
  fails: '✕ breaks a binding rule',
  'not-read': '✕ not checked',
  unjudged: '? something binding not judged',
  meets: '✓ keeps every binding rule',
};

/** One line for each plan of several, in the order given. */
export function summaryWords(plans: readonly PlanRow[]): string {
  const counted = (state: PlanRow['state']): number =>
    plans.filter((plan) => plan.state === state).length;
  const unread = counted('not-read');
  const open = counted('unjudged');
  return [
    table(
      [
        ['plan', 'met', 'failed', 'binding', 'not judged', 'binding', ''],
        ...plans.map(({ plan, counts, state }) =>
          counts === null
            ? [plan, '', '', '', '', '', stateWords[state]]
            : [
                plan,
                ...[
                  counts.pass,
                  counts.fail,
                  counts.must_fail,
                  counts.check,
                  counts.must_check,
                ].map(String),
                stateWords[state],
              ],
        ),
      ],
      'lrrrrrl',
    ),
    `${plans.length} plans: ${counted('fails')} break a binding rule${unread > 0 ? `, ${unread} could not be checked` : ''}${open > 0 ? `, ${open} have something binding that could not be judged` : ''}. Local code governs.`,
  ].join('\n\n');
}

/** What a result was made from, to be told from others. */
export function madeWords(made: MadeFrom, day: string): string {
  const { version, plan, elevation, rule_set: set } = made;
  return [
    'Made from',
    `  plan ${plan.file}, SHA-256 ${plan.sha256}`,
    elevation === null
      ? '  no raster'
      : `  raster ${elevation.file}, ${elevation.crc32 === null ? 'not read whole' : `CRC-32 ${elevation.crc32}`}`,
    `  rule set ${set.id}, ${set.title}, ${set.jurisdiction}, SHA-256 ${set.sha256}`,
    `  by lotfall ${version}, judged as of ${day}`,
  ].join('\n');
}

/** A set of the program's says at length what the summary says in three words. */
function localCode({ note }: RuleSet): string {
  return note.startsWith('Local code governs')
    ? 'Local code governs.'
    : `${note} Local code governs.`;
}

function sources(results: readonly SetbackResult[]): string[] {
  return [...new Set(results.map(({ source }) => `  ${sourceLine(source)}`))];
}
