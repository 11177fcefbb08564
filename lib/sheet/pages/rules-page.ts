import { featureName, nameById } from '../../plan/feature-name';
import { measuredWords, requiredWords, verdictWords } from '../../setback/judge/finding-words';
import type { SetbackResult } from '../../setback/judge/setback-result';
import { locateState, type LocateState } from '../../setback/locate/locates';
import type { Verdict } from '../../verdict';
import { formatLength } from '../../units/format';
import { letters } from '../drawing/board';
import type { SheetFacts } from '../facts/sheet-facts';
import { flowLeaves, type Block } from './flow';
import type { Leaf, Making } from './leaf';
import { verdictLook } from './site-notes';
import { SourceList } from './source-list';
import type { Table } from './table';

const worstFirst: readonly Verdict[] = ['fail', 'check', 'pass'];

/** Every rule at every thing, with what was measured; conditions, locates, and room for whoever looks it over. */
export function rulesPages(making: Making): Leaf[] {
  const { facts } = making;
  const { findings, ruleSet } = facts;
  const sources = new SourceList();
  if (findings === null) {
    return flowLeaves(
      making,
      {
        name: 'rules',
        title: 'Rules, result by result',
        missing: ['There is no garden on the plan, so no rule could be judged.'],
      },
      {
        main: [
          { kind: 'heading', text: 'Nothing to be judged' },
          {
            kind: 'text',
            text: `The plan has no garden. The rules would be those of ${ruleSet.title}.`,
          },
        ],
        side: locateBlocks(facts),
      },
    );
  }
  const main: Block[] = [
    { kind: 'heading', text: `${ruleSet.title}: result by result` },
    { kind: 'table', table: resultTable(facts, findings.results, sources) },
  ];
  const conditions = conditionsOf(findings.results);
  const side: Block[] = [
    { kind: 'heading', text: 'The count' },
    {
      kind: 'text',
      text: `✓ ${findings.summary.pass} meet, ? ${findings.summary.check} to check, ✗ ${findings.summary.fail} fail, ${findings.summary.must_fail} of them rules that must be met. Locates as of ${facts.date}.`,
      look: letters.bodyBold,
    },
    { kind: 'text', text: ruleSet.note, look: letters.aside },
    ...(conditions.length === 0
      ? []
      : ([
          { kind: 'heading', text: 'To be settled before any digging' },
          { kind: 'items', items: conditions },
        ] satisfies Block[])),
    ...locateBlocks(facts),
    { kind: 'heading', text: 'Reviewer' },
    {
      kind: 'blanks',
      captions: ['□ meets   □ meets, with conditions   □ does not meet', 'name, date', 'signature'],
    },
    ...sources.blocks(),
  ];
  return flowLeaves(making, { name: 'rules', title: 'Rules, result by result' }, { main, side });
}

function resultTable(
  { units, plan }: SheetFacts,
  results: readonly SetbackResult[],
  sources: SourceList,
): Table {
  const sorted = worstFirst.flatMap((result) => results.filter((row) => row.result === result));
  const small = { ...letters.body, pt: 7 };
  const many = new Set(results.map(({ basin }) => basin)).size > 1;
  return {
    columns: [
      { head: '', width: 3.2, look: letters.figureBold },
      { head: 'rule', width: 15, look: small },
      { head: many ? 'at, of which garden' : 'at', width: 14, look: small },
      { head: 'binding', width: 6, look: small },
      { head: 'needs', width: 7.5, align: 'end' },
      { head: 'is', width: 7, align: 'end', look: letters.figureBold },
      { head: 'margin', width: 7.5, align: 'end' },
      { head: 'result', width: 7 },
      { head: 'why', width: 29, look: small },
      { head: 'source', width: 6, look: letters.label },
    ],
    rows: sorted.map((row) => [
      row.letter,
      row.title,
      many ? `${row.feature_name}, ${nameById(plan.plan.features, row.basin)}` : row.feature_name,
      row.binding,
      requiredWords(row, units),
      measuredWords(row, units),
      row.margin_m === null ? '' : formatLength(row.margin_m, units),
      { text: verdictWords[row.result], look: verdictLook(row.result) },
      row.why,
      sources.ref(row.source),
    ]),
    rowMm: 4.4,
  };
}

/** What has to be put right or found out; why stands in the table. */
function conditionsOf(results: readonly SetbackResult[]): string[] {
  const open = worstFirst
    .slice(0, 2)
    .flatMap((result) => results.filter((row) => row.result === result));
  return [
    ...new Set(open.map((row) => `${verdictWords[row.result]}: ${row.title}, ${row.feature_name}`)),
  ];
}

const stateWords: Readonly<Record<LocateState, string>> = {
  current: '✓ current',
  never: '? never located',
  expired: '? run out',
  'not-yet': '? not yet begun',
  'dates-in-doubt': '? dates in doubt',
  'wrong-party': '? by the wrong party',
  'side-unknown': '? side not known',
};

/** Each line in the ground with who marked it and until when that holds. */
function locateBlocks({ plan, date }: SheetFacts): Block[] {
  if (plan.of.utility.length === 0) {
    return [
      { kind: 'heading', text: 'Lines in the ground' },
      {
        kind: 'text',
        text: 'None is drawn. Unmarked is not absent: ask the public notice service and a private locator before digging.',
      },
    ];
  }
  const small = { ...letters.label, pt: 6.8 };
  return [
    { kind: 'heading', text: 'Lines in the ground' },
    {
      kind: 'table',
      table: {
        columns: [
          { head: 'line', width: 32, look: small },
          { head: 'side', width: 14, look: small },
          { head: 'marked', width: 19, look: small },
          { head: 'until', width: 19, look: small },
          { head: `on ${date}`, width: 24 },
        ],
        rows: plan.of.utility.map(({ feature }) => {
          const state = locateState(feature, date);
          const { side, located } = feature.properties;
          return [
            featureName(feature),
            side ?? 'not known',
            located?.on ?? '–',
            located?.until ?? '–',
            {
              text: stateWords[state],
              look: verdictLook(state === 'current' ? 'pass' : 'check', 6.8),
            },
          ];
        }),
      },
    },
  ];
}
