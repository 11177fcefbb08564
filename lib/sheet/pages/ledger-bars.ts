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

/** Words below a bar, one row where they fit beside each other, else more; each led to its part. */
function drawLeaders(
  board: Board,
  outside: readonly { readonly fromX: number; readonly text: string }[],
  { x, y, width }: Pick<Rect, 'x' | 'y' | 'width'>,
): number {
  if (outside.length === 0) return 0;
  const rows: number[] = [];
  for (const { fromX, text } of outside) {
    const widthMm = board.widthMm(text, look);
    const startX = Math.max(x, Math.min(fromX + 1.5, x + width - widthMm));
    let row = rows.findIndex((endX) => endX + 2 <= startX);
    if (row === -1) row = rows.push(0) - 1;
    rows[row] = startX + widthMm;
    const textY = y + 3.6 + row * lineMm;
    board.line(
      [
        [fromX, y - barMm / 2],
        [fromX, textY - 0.9],
        [startX - 0.4, textY - 0.9],
      ],
      { ink: inks.ink, widthMm: pens.hatch },
    );
    board.text(text, [startX, textY], look);
  }
  return 1.6 + rows.length * lineMm;
}
