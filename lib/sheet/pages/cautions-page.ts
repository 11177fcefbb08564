import { letters } from '../drawing/board';
import { cautions, cautionsSource } from '../facts/cautions';
import { flowLeaves, type Block } from './flow';
import type { Leaf, Making } from './leaf';

/** What must be said with every plan, what is in doubt in this one, what is missing, and what changed from issue to issue. */
export function cautionPages(making: Making, before: readonly Leaf[]): Leaf[] {
  const { facts } = making;
  const revisions = [...(facts.plan.plan.lotfall.revisions ?? [])].sort((a, b) =>
    a.on < b.on ? -1 : 1,
  );
  const missing = before.flatMap(({ title, missing: lacks }) =>
    lacks.map((lack) => `${title}: ${lack}`),
  );
  const leftOut = before.flatMap(({ title, leftOut: labels = [] }) =>
    labels.map((label) => `${title}, no room for the label: ${label}`),
  );
  const main: Block[] = [
    { kind: 'heading', text: 'Cautions' },
    ...cautions.flatMap(({ topic, text }): Block[] => [
      { kind: 'text', text: topic, look: { ...letters.bodyBold, pt: 9 } },
      { kind: 'text', text, look: { ...letters.body, pt: 9 } },
    ]),
    { kind: 'text', text: `Cautions: ${cautionsSource.mark}.`, look: letters.aside },
    { kind: 'heading', text: 'Of this plan' },
    {
      kind: 'items',
      items: facts.notes.length > 0 ? facts.notes : ['Nothing more has to be said.'],
    },
    ...(missing.length + leftOut.length === 0
      ? []
      : ([
          { kind: 'heading', text: 'What these sheets lack' },
          { kind: 'items', items: [...missing, ...leftOut] },
        ] satisfies Block[])),
  ];
  const side: Block[] = [
    { kind: 'heading', text: 'The set' },
    {
      kind: 'table',
      table: {
        columns: [
          { head: 'sheet', width: 10, look: letters.figureBold },
          { head: 'title', width: 60, look: letters.body },
          { head: 'scale', width: 30, look: letters.label },
        ],
        rows: before.map(({ title, scale }, i) => [String(i + 1), title, scale]),
      },
    },
    { kind: 'heading', text: 'Revisions' },
    revisions.length === 0
      ? { kind: 'text', text: `None on record: this is the issue of ${facts.date}.` }
      : {
          kind: 'table',
          table: {
            columns: [
              { head: 'rev', width: 8, look: letters.figureBold },
              { head: 'date', width: 20 },
              { head: 'what changed', width: 50, look: letters.body },
              { head: 'by', width: 18, look: letters.body },
            ],
            rows: revisions.map(({ mark, on, what, by }) => [mark ?? '', on, what, by ?? '']),
          },
        },
  ];
  return flowLeaves(
    making,
    { name: 'cautions', title: 'Cautions and revisions' },
    { main, side, columns: 2 },
  );
}
