import { verdictWords } from '../../setback/judge/finding-words';
import { lotCautions } from '../../setback/sets/lot-rules';
import { cautionLine, type LotFinding } from '../../setback/judge/check-lot';
import { movedWords, resultWords } from '../../setback/submission/since-last';
import { sourceLine } from '../../source';
import { formatLength } from '../../units/format';
import type { Verdict } from '../../verdict';
import { Board, letters, type Lettered } from '../drawing/board';
import type { Fonts } from '../drawing/fonts';
import { inks } from '../drawing/inks';
import type { Sheet, SheetPage } from '../drawing/mark';
import { cautions, cautionsSource } from '../facts/cautions';
import { flowLeaves, type Block } from '../pages/flow';
import { verdictLook } from '../pages/site-notes';
import type { PaperName } from '../paper/paper';
import type { PacketFacts } from './packet-facts';
import { drawFooting, packetFrame } from './packet-frame';
import { ruleEntry } from './rule-entry';

const worstFirst: readonly Verdict[] = ['fail', 'check', 'pass'];

/**
 * The packet of a plan for a permit file: what was handed in, what must be settled before issue, room for the reviewer, then
 * every rule with a sketch of the line that was measured.
 *
 * The same facts give the same pages. Cost: some milliseconds for each rule and feature.
 */
export function makePacket(facts: PacketFacts, fonts: Fonts, paper: PaperName): Sheet {
  const frame = packetFrame(paper);
  const { findings, lot, made, date } = facts;
  const rows = sorted(findings.results);
  const main: Block[] = [
    ...headBlocks(facts),
    ...conditionBlocks(facts),
    ...reviewerBlocks(),
    ...sinceBlocks(facts),
    ...(rows.length === 0
      ? []
      : ([
          { kind: 'heading', text: `${facts.ruleSet.title}: rule by rule` },
          ...rows.map((row) => ruleEntry(facts, row)),
        ] satisfies Block[])),
    ...lotBlocks(facts, sorted(lot.results)),
    ...closingBlocks(facts),
  ];
  const leaves = flowLeaves(
    { frame, fonts },
    { name: 'packet', title: 'Review packet' },
    { main, side: [] },
  );
  const sum = made.plan.sha256.slice(0, 16);
  const pages = leaves.map(({ name, title, board, missing }, i): SheetPage => {
    const around = new Board(fonts);
    drawFooting(around, frame, {
      title: `${facts.title}: review packet`,
      left: [facts.parcel, facts.revision].filter((part) => part !== undefined).join(' · '),
      right: `lotfall ${made.version} · plan ${sum}… · ${date}`,
      number: i + 1,
      of: leaves.length,
    });
    const { widthMm, heightMm } = frame;
    return { name, title, widthMm, heightMm, marks: [...board.marks, ...around.marks], missing };
  });
  return { title: `${facts.title}: review packet`, date, pages };
}

function sorted<T extends { readonly result: Verdict }>(rows: readonly T[]): T[] {
  return worstFirst.flatMap((result) => rows.filter((row) => row.result === result));
}

const stateWords: Readonly<
  Record<PacketFacts['state'], { readonly text: string; readonly ink: string }>
> = {
  fails: { text: '✕ A binding rule fails.', ink: inks.fails },
  unjudged: { text: '? Something binding could not be judged.', ink: inks.check },
  meets: { text: '✓ Every binding rule that was judged is met.', ink: inks.meets },
};

const plain: Lettered = { ...letters.body, pt: 8.5 };

/** What was handed in by whom, and how it stands. */
function headBlocks(facts: PacketFacts): Block[] {
  const { findings, lot, ruleSet, state, plan } = facts;
  const rows: [string, string | undefined][] = [
    ['lot', facts.title],
    ['applicant', facts.applicant],
    ['parcel', facts.parcel],
    ['revision', facts.revision],
    ['rules', `${ruleSet.title}, ${ruleSet.jurisdiction}`],
    ['judged as of', facts.date],
    ['plan file', facts.made.plan.file],
  ];
  const { text, ink } = stateWords[state];
  const counts = [
    `Basins: ${countWords(findings.summary)}`,
    `Drainage on the lot: ${countWords(lot.summary)}`,
  ];
  return [
    { kind: 'text', text: `${facts.title}: review packet`, look: { ...letters.lot, pt: 16 } },
    {
      kind: 'table',
      table: {
        columns: [
          { head: 'submission', width: 30, look: letters.label },
          { head: '', width: 150, look: letters.bodyBold },
        ],
        rows: rows.map(([head, words]) => [head, words ?? blank]),
      },
    },
    { kind: 'text', text, look: { ...letters.title, pt: 12, ink } },
    ...(plan.of.basin.length === 0
      ? ([{ kind: 'text', text: 'The plan has no basin.', look: plain }] satisfies Block[])
      : []),
    { kind: 'text', text: counts.join('. '), look: plain },
    { kind: 'text', text: ruleSet.note, look: letters.aside },
  ];
}

const blank = '________________________________________';

function countWords({ pass, fail, check, must_fail, must_check }: FindingCountsLike): string {
  return `${pass} met, ${fail} failed (${must_fail} binding), ${check} not judged (${must_check} binding)`;
}

type FindingCountsLike = PacketFacts['findings']['summary'];

/** What fails, and what has to be settled before a permit is issued: binding rules first, each once. */
function conditionBlocks({ findings, lot }: PacketFacts): Block[] {
  const failing = [...findings.results, ...lot.results].filter(({ result }) => result === 'fail');
  const open = [
    ...findings.results.flatMap(({ before_issue: settle, ...row }) =>
      settle === null ? [] : [{ settle, ...row }],
    ),
    ...lot.results.flatMap((row) =>
      row.result === 'check' ? [{ ...row, settle: `ask ${row.ask}` }] : [],
    ),
  ].sort((a, b) => Number(b.binding === 'must') - Number(a.binding === 'must'));
  return [
    ...(failing.length === 0
      ? []
      : ([
          { kind: 'heading', text: 'Fails' },
          {
            kind: 'items',
            items: once(
              failing.map(
                (row) => `${row.title}, ${row.feature_name} (${row.binding}). ${row.why}`,
              ),
            ),
            look: plain,
          },
        ] satisfies Block[])),
    { kind: 'heading', text: 'Before issue' },
    open.length === 0
      ? { kind: 'text', text: 'Nothing is left open by the rules.', look: plain }
      : {
          kind: 'items',
          items: once(
            open.map(
              (row) =>
                `□ Before issue: ${row.settle} (${row.title}, ${row.feature_name}; ${row.binding}).`,
            ),
          ),
          look: plain,
        },
  ];
}

function once(lines: readonly string[]): string[] {
  return [...new Set(lines)];
}

function reviewerBlocks(): Block[] {
  return [
    { kind: 'heading', text: 'Reviewer' },
    {
      kind: 'blanks',
      captions: [
        '□ issued   □ issued with the conditions above   □ to be handed in again   □ refused',
        'remarks',
        'remarks',
        'name',
        'date and signature',
      ],
    },
  ];
}

/** What changed since the submission before. */
function sinceBlocks({ since, units }: PacketFacts): Block[] {
  if (since === undefined) return [];
  const { plan } = since.earlier;
  const moved = movedWords(since, units);
  const results = resultWords(since, units);
  const listed = (lines: readonly string[], none: string): Block =>
    lines.length === 0
      ? { kind: 'text', text: none, look: plain }
      : { kind: 'items', items: lines, look: plain };
  return [
    { kind: 'heading', text: 'Since the last submission' },
    {
      kind: 'text',
      text: `Beside ${plan.file}, SHA-256 ${plan.sha256}, judged as of the same day. ${since.notes.join(' ')}`,
      look: letters.aside,
    },
    { kind: 'text', text: 'What changed on the plan', look: letters.bodyBold },
    listed(moved, 'Nothing of the plan has changed.'),
    { kind: 'text', text: 'Which results changed', look: letters.bodyBold },
    listed(results, 'No result has changed.'),
  ];
}

/** The rules that need no basin, as a table. */
function lotBlocks({ units }: PacketFacts, rows: readonly LotFinding[]): Block[] {
  if (rows.length === 0) return [];
  const small = { ...letters.body, pt: 7 };
  return [
    { kind: 'heading', text: 'Drainage on the lot' },
    {
      kind: 'table',
      table: {
        columns: [
          { head: 'rule', width: 28, look: small },
          { head: 'at', width: 22, look: small },
          { head: 'to', width: 22, look: small },
          { head: 'needs', width: 13, align: 'end' },
          { head: 'is', width: 13, align: 'end', look: letters.figureBold },
          { head: 'binding', width: 11, look: small },
          { head: 'result', width: 13 },
          { head: 'why, whom to ask, source', width: 58, look: small },
        ],
        rows: rows.map((row) => [
          row.title,
          row.feature_name,
          row.other_name,
          lengthWords(row.required_m, units),
          lengthWords(row.measured_m, units),
          row.binding,
          { text: verdictWords[row.result], look: verdictLook(row.result) },
          `${row.why}${row.result === 'pass' ? '' : ` Ask ${row.ask}.`} ${sourceLine(row.source)}`,
        ]),
      },
    },
  ];
}

function lengthWords(metres: number | null, units: PacketFacts['units']): string {
  return metres === null ? '' : formatLength(metres, units);
}

/** What must be said, and what the packet was made from. */
function closingBlocks({ made, notes, lot }: PacketFacts): Block[] {
  const { plan, elevation, rule_set: set } = made;
  const sums: [string, string][] = [
    ['program', `lotfall ${made.version}`],
    ['plan', `${plan.file}, SHA-256 ${plan.sha256}`],
    [
      'raster',
      elevation === null
        ? 'none'
        : `${elevation.file}${elevation.crc32 === null ? ', not read whole' : `, CRC-32 ${elevation.crc32}`}`,
    ],
    ['rule set', `${set.id}, ${set.title}, ${set.jurisdiction}, SHA-256 ${set.sha256}`],
  ];
  const said = [...notes, ...(lot.results.length > 0 ? lotCautions.map(cautionLine) : [])];
  return [
    { kind: 'heading', text: 'Of this plan' },
    {
      kind: 'items',
      items: said.length === 0 ? ['Nothing more has to be said.'] : once(said),
      look: letters.body,
    },
    { kind: 'heading', text: 'Cautions' },
    { kind: 'items', items: cautions.map(({ topic, text }) => `${topic}. ${text}`) },
    { kind: 'text', text: `Cautions: ${cautionsSource.mark}.`, look: letters.aside },
    { kind: 'heading', text: 'Made from' },
    {
      kind: 'table',
      table: {
        columns: [
          { head: '', width: 24, look: letters.label },
          { head: '', width: 156, look: letters.body },
        ],
        rows: sums,
      },
    },
  ];
}
