import { dayText } from '../../handover/dates/day';
import type { DateEntry, JobDates } from '../../handover/dates/job-dates';
import type { WorkTime } from '../../handover/building/digging-time';
import { stepsSource, type WorkStep } from '../../handover/building/steps';
import { sourceLine } from '../../source';
import { letters, type Lettered } from '../drawing/board';
import { inks } from '../drawing/inks';
import { flowLeaves, type Block } from './flow';
import type { Leaf, Making } from './leaf';
import type { Table } from './table';

const small: Lettered = { ...letters.body, pt: 7.4 };
const caution: Lettered = { ...letters.bodyBold, pt: 7.4, ink: inks.fails };

/** How the garden is built, each caution at the step that it belongs to, how long that takes, and on which days. */
export function workPages(making: Making): Leaf[] {
  const { facts } = making;
  const { work, dates, lacks } = facts.job;
  if (facts.plan.of.basin.length === 0) return [];
  const missing = [...lacks.work, ...lacks.dates];
  const main: Block[] = [
    ...(dates === null ? [] : datesBlocks(dates)),
    ...(work?.basins ?? []).flatMap(({ name, steps }): Block[] => [
      {
        kind: 'heading',
        text: work?.basins.length === 1 ? 'Steps' : `${name.slice(0, 60)}: steps`,
      },
      ...steps.flatMap(stepBlocks),
    ]),
  ];
  const side: Block[] = [
    ...(work === null ? [] : timeBlocks(work.time)),
    ...(dates === null || dates.notes.length === 0
      ? []
      : ([
          { kind: 'heading', text: 'Of the dates' },
          { kind: 'items', items: dates.notes, look: small },
        ] satisfies Block[])),
    ...(missing.length === 0
      ? []
      : ([
          { kind: 'heading', text: 'Not here' },
          { kind: 'items', items: missing, look: small },
        ] satisfies Block[])),
    { kind: 'text', text: `Steps: ${stepsSource}.`, look: letters.aside },
  ];
  return flowLeaves(
    making,
    { name: 'work', title: 'Work and days', missing },
    { main, side, columns: 2 },
  );
}

function datesBlocks({ entries, conflicts }: JobDates): Block[] {
  const table: Table = {
    columns: [
      { head: 'day', width: 19, look: letters.figureBold },
      { head: 'what', width: 36, look: { ...letters.bodyBold, pt: 7.4 } },
      { head: '', width: 50, look: { ...letters.body, pt: 6.8 } },
    ],
    rows: entries.map((entry) => [
      entry.until === entry.day
        ? dayText(entry.day)
        : `${dayText(entry.day)} to ${dayText(entry.until)}`,
      `${entry.title}${repeatText(entry)}`,
      entry.source === null ? entry.note : `${entry.note} (${sourceLine(entry.source)})`,
    ]),
    rowMm: 4.6,
  };
  return [
    { kind: 'heading', text: 'Days' },
    ...(conflicts.length === 0
      ? []
      : ([
          { kind: 'text', text: '✗ These do not go together', look: caution },
          { kind: 'items', items: conflicts, look: small },
        ] satisfies Block[])),
    { kind: 'table', table },
  ];
}

function repeatText({ repeats }: DateEntry): string {
  return repeats === null ? '' : `, every ${repeats.every} until ${dayText(repeats.until)}`;
}

function stepBlocks(step: WorkStep, index: number): Block[] {
  return [
    {
      kind: 'lines',
      lines: [
        { text: `${index + 1}  ${step.title}`, look: { ...letters.bodyBold, pt: 8.6 } },
        ...step.how.map((text) => ({ text, look: small })),
        ...listed('Tools: ', step.tools.join(', ')),
        ...listed('Check: ', step.check.join(' ')),
        ...listed('Goes wrong: ', step.goes_wrong.join(' ')),
        ...step.caution.map((text) => ({ text: `Caution: ${text}`, look: caution })),
      ],
    },
  ];
}

function listed(name: string, words: string): { text: string; look: Lettered }[] {
  return words === '' ? [] : [{ text: `${name}${words}`, look: small }];
}

function timeBlocks(time: WorkTime): Block[] {
  const range = ([from, to]: readonly [number, number]): string =>
    Math.round(from) === Math.round(to)
      ? String(Math.round(to))
      : `${Math.round(from)} to ${Math.round(to)}`;
  return [
    { kind: 'heading', text: 'Time' },
    {
      kind: 'text',
      text: `${range(time.person_hours)} hours of one person; with ${time.people}, ${time.hours_a_day} h a day, ${range(time.days)} days.`,
    },
    {
      kind: 'table',
      table: {
        columns: [
          { head: 'task', width: 38, look: small },
          { head: 'amount', width: 20, align: 'end' },
          { head: 'hours', width: 20, align: 'end', look: letters.figureBold },
        ],
        rows: time.tasks.map(({ task, amount, unit, person_hours: hours }) => [
          task,
          unit === 'm3' ? `${amount.toFixed(1)} m³` : `${Math.ceil(amount)} plants`,
          range(hours),
        ]),
        rowMm: 4.6,
      },
    },
    { kind: 'text', text: time.note, look: small },
    {
      kind: 'text',
      text: [
        ...new Set(
          time.tasks.flatMap(({ quick_source: quick, slow_source: slow }) => [
            `quick: ${quick}`,
            `slow: ${slow}`,
          ]),
        ),
      ].join('; '),
      look: letters.aside,
    },
  ];
}
