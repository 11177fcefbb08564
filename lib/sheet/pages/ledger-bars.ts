import { formatVolume } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import { letters, type Board, type Lettered } from '../drawing/board';
import type { Hatch } from '../drawing/hatch';
import { inks, pens } from '../drawing/inks';
import { rectRun, type Rect } from '../drawing/mark';

/** A part of a bar: a fill or a hatch, its words inside where there is room, else on a leader below. */
export interface LedgerPart {
  readonly words: string;
  readonly short: string;
  readonly volumeM3: number;
  readonly fill?: string;
  readonly hatch?: Hatch;
  readonly ink?: string;
}

export interface LedgerBar {
  readonly name: string;
  readonly parts: readonly LedgerPart[];
}

const barMm = 6.4;
const nameMm = 24;
const look: Lettered = { ...letters.labelBold, pt: 6.6 };
const lineMm = 3.1;

/** Bars of one scale below one another. Gives the height below the last. */
export function drawLedger(
  board: Board,
  { x, y, width }: Rect,
  bars: readonly LedgerBar[],
  units: UnitSystem,
): number {
  const most = Math.max(
    ...bars.map(({ parts }) => parts.reduce((sum, { volumeM3 }) => sum + volumeM3, 0)),
  );
  const perM3 = (width - nameMm) / most;
  let atY = y;
  for (const { name, parts } of bars) {
    board.text(name, [x + nameMm - 2, atY + barMm / 2 + 1], letters.label, { align: 'end' });
    let atX = x + nameMm;
    const outside: { readonly fromX: number; readonly text: string }[] = [];
    for (const part of parts) {
      const widthMm = part.volumeM3 * perM3;
      const rect = { x: atX, y: atY, width: widthMm, height: barMm };
      drawPart(board, rect, part);
      const text = `${part.words} ${formatVolume(part.volumeM3, units)}`;
      const short = `${part.short} ${formatVolume(part.volumeM3, units)}`;
      const fitting = [text, short].find((each) => board.widthMm(each, look) + 3 <= widthMm);
      if (fitting === undefined) outside.push({ fromX: atX + widthMm / 2, text: short });
      else inPart(board, rect, fitting);
      atX += widthMm;
    }
    atY +=
      barMm + drawLeaders(board, outside, { x: x + nameMm, y: atY + barMm, width: width - nameMm });
    atY += 3;
  }
  return atY;
}

function drawPart(board: Board, rect: Rect, { fill, hatch, ink }: LedgerPart): void {
  const run = rectRun(rect);
  if (fill !== undefined) board.area([run], { fill });
  if (hatch !== undefined) board.hatch([[run]], hatch, ink ?? inks.ink);
  board.area([run], { pen: { ink: inks.ink, widthMm: pens.thin } });
}

function inPart(board: Board, { x, y, width, height }: Rect, text: string): void {
  const half = board.widthMm(text, look) / 2 + 0.8;
  const middle = x + width / 2;
  board.box(
    { x: middle - half, y: y + 1.3, width: 2 * half, height: height - 2.6 },
    { fill: inks.paper },
  );
  board.text(text, [middle, y + height / 2 + 0.9], look, { align: 'middle' });
}

/** Words below a bar, in rows, each led to its part; from the right, so that no leader runs through words. */
function drawLeaders(
  board: Board,
  outside: readonly { readonly fromX: number; readonly text: string }[],
  { x, y, width }: Pick<Rect, 'x' | 'y' | 'width'>,
): number {
  if (outside.length === 0) return 0;
  /** Of each row the left end of its words. */
  const rows: number[] = [];
  for (const { fromX, text } of outside.toReversed()) {
    const widthMm = board.widthMm(text, look);
    // At the right edge the words stand before their leader.
    const isBefore = fromX + 1.5 + widthMm > x + width;
    const startX = isBefore ? Math.max(x, fromX - 1.5 - widthMm) : fromX + 1.5;
    let row = rows.findIndex((leftX) => startX + widthMm + 2 <= leftX && fromX + 1 <= leftX);
    if (row === -1) row = rows.push(Infinity) - 1;
    rows[row] = Math.min(startX, fromX);
    const textY = y + 3.6 + row * lineMm;
    const toX = isBefore ? startX + widthMm + 0.4 : startX - 0.4;
    board.line(
      [
        [fromX, y - barMm / 2],
        [fromX, textY - 0.9],
        [toX, textY - 0.9],
      ],
      { ink: inks.ink, widthMm: pens.hatch },
    );
    board.text(text, [startX, textY], look);
  }
  return 1.6 + rows.length * lineMm;
}
