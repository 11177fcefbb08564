import { measuredWords, requiredWords, verdictWords } from '../../setback/judge/finding-words';
import type { SetbackResult } from '../../setback/judge/setback-result';
import { sourceLine } from '../../source';
import { formatLength } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import { letters, type Board, type Lettered } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { pointMm, type Rect } from '../drawing/mark';
import type { Block } from '../pages/flow';
import { verdictLook } from '../pages/site-notes';
import { drawSketch } from './rule-sketch';
import type { PacketFacts } from './packet-facts';

const sketchMm = { width: 46, height: 31 } as const;
const gapMm = 4;

interface Line {
  readonly text: string;
  readonly look: Lettered;
}

/** One rule at one thing: sketch of the measured line, figures, from where to where, why, and what settles it. */
export function ruleEntry(facts: PacketFacts, row: SetbackResult): Block {
  const lines = linesOf(row, facts.units);
  const { nearest } = row;
  const besideMm = nearest === null ? 0 : sketchMm.width + gapMm;
  const textMm = (board: Board, widthMm: number): number =>
    7 + lines.reduce((sum, { text, look }) => sum + heightOf(board, text, look, widthMm), 0);
  return {
    kind: 'figure',
    heightMm: (board, widthMm) =>
      Math.max(nearest === null ? 0 : sketchMm.height, textMm(board, widthMm - besideMm)) + 2,
    draw(board, rect) {
      if (nearest !== null) {
        drawSketch(
          board,
          { x: rect.x, y: rect.y + 0.5, ...sketchMm },
          {
            plan: facts.plan,
            units: facts.units,
            day: facts.date,
            line: nearest,
            words: row.measured_m === null ? '' : formatLength(row.measured_m, facts.units),
            ends: [row.feature],
          },
        );
      }
      drawLines(board, rect, besideMm, facts.nameOf(row.basin), row, lines);
      const y = rect.y + rect.height;
      board.line(
        [
          [rect.x, y],
          [rect.x + rect.width, y],
        ],
        { ink: inks.hair, widthMm: pens.fine },
      );
    },
  };
}

function drawLines(
  board: Board,
  rect: Rect,
  besideMm: number,
  basin: string | null,
  row: SetbackResult,
  lines: readonly Line[],
): void {
  const x = rect.x + besideMm;
  const end = rect.x + rect.width;
  const verdict = verdictWords[row.result];
  const look = verdictLook(row.result, 8.5);
  board.text(verdict, [end, rect.y + 4], look, { align: 'end' });
  const of = basin === null ? '' : `, ${basin}`;
  const head = { ...letters.bodyBold, pt: 8.5 };
  const room = end - x - board.widthMm(verdict, look) - 3;
  board.text(
    board.cut(`${row.letter}  ${row.title}: ${row.feature_name}${of}`, head, room),
    [x, rect.y + 4],
    head,
  );
  let y = rect.y + 6;
  for (const line of lines) {
    for (const text of board.wrapped(line.text, line.look, end - x)) {
      board.text(text, [x, y + line.look.pt * pointMm * 0.85], line.look);
      y += stepMm(line.look);
    }
  }
}

function linesOf(row: SetbackResult, units: UnitSystem): Line[] {
  const required = requiredWords(row, units);
  const measured = measuredWords(row, units);
  const figures = [
    ...(required === ''
      ? []
      : [row.required_m === 0 ? 'not to lie over it' : `asked for ${required}`]),
    ...(measured === '' ? [] : [`measured ${measured}`]),
    ...(row.margin_m === null ? [] : [`margin ${formatLength(row.margin_m, units)}`]),
    ...(row.accuracy_m > 0 ? [`place known to ${formatLength(row.accuracy_m, units)}`] : []),
    row.binding,
  ].join(' · ');
  const small = { ...letters.body, pt: 7.4 };
  const offsetM = row.edge_offset_m ?? 0;
  const offset =
    offsetM === 0
      ? ''
      : `, ${formatLength(Math.abs(offsetM), units)} ${offsetM > 0 ? 'outside' : 'inside'} the rim`;
  return [
    { text: figures, look: letters.labelBold },
    ...(row.measured_from === null
      ? []
      : [
          {
            text: `Measured from ${row.measured_from}${offset}${row.measured_to === null ? '' : ` to ${row.measured_to}`}. ${row.assumed.join(' ')}`,
            look: small,
          },
        ]),
    { text: row.why, look: small },
    ...(row.before_issue === null
      ? []
      : [
          {
            text: `Before issue: ${row.before_issue}.`,
            look: { ...letters.bodyBold, pt: 7.6, ink: inks.check },
          },
        ]),
    { text: `“${row.published}”: ${sourceLine(row.source)}`, look: { ...letters.aside, pt: 6.6 } },
  ];
}

function stepMm({ pt }: Lettered): number {
  return pt * pointMm * 1.28;
}

function heightOf(board: Board, text: string, look: Lettered, widthMm: number): number {
  return board.wrapped(text, look, widthMm).length * stepMm(look);
}
