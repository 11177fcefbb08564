import type { Board } from '../drawing/board';
import { letters, type Lettered } from '../drawing/board';
import type { Fonts } from '../drawing/fonts';
import { inks, pens } from '../drawing/inks';
import { inset, pointMm, type Rect } from '../drawing/mark';
import type { SheetFacts } from '../facts/sheet-facts';
import type { PageFrame } from '../paper/paper';

/** What every page is made with. */
export interface Making {
  readonly facts: SheetFacts;
  readonly fonts: Fonts;
  readonly frame: PageFrame;
  /** Of the site plan, where the user asks for one. */
  readonly scale?: number;
}

/** A page before it is known how many there are: its marks, and what its title block says. */
export interface Leaf {
  readonly name: string;
  readonly title: string;
  /** For the title block; empty for pages without a drawing. */
  readonly scale: string;
  readonly board: Board;
  readonly missing: readonly string[];
  /** What has to be told of it that is no lack: labels without room. */
  readonly leftOut?: readonly string[];
}

/** Room between an edge and what stands inside it. */
export const padMm = 4;

/** A heading over the notes beside a drawing: letters and a rule. Gives the height below which the rest stands. */
export function heading(board: Board, text: string, { x, y, width }: Rect): number {
  board.text(board.cut(text.toUpperCase(), letters.head, width), [x, y + 3], letters.head);
  board.line(
    [
      [x, y + 4.4],
      [x + width, y + 4.4],
    ],
    { ink: inks.ink, widthMm: pens.rule },
  );
  return y + 7.2;
}

/**
 * Lines of text below one another.
 *
 * @returns the height below them; lines that would pass `bottom` are left out, the last one drawn then ends in an ellipsis.
 */
export function paragraph(
  board: Board,
  text: string,
  { x, y, width }: Pick<Rect, 'x' | 'y' | 'width'>,
  look: Lettered = letters.body,
  bottom = Infinity,
): number {
  const stepMm = look.pt * pointMm * 1.3;
  const lines = board.wrapped(text, look, width);
  const room = Math.max(0, Math.floor((bottom - y) / stepMm));
  lines.slice(0, room).forEach((line, i) => {
    const isCut = i === room - 1 && lines.length > room;
    board.text(
      isCut ? board.cut(`${line} …`, look, width) : line,
      [x, y + i * stepMm + look.pt * pointMm * 0.85],
      look,
    );
  });
  return y + Math.min(room, lines.length) * stepMm;
}

/** The room inside a rectangle that words may take. */
export function padded(rect: Rect): Rect {
  return inset(rect, padMm);
}

/** Remarks with their numbers, as many as find room. */
export function numbered(
  board: Board,
  remarks: readonly string[],
  rect: Rect,
  look: Lettered = letters.body,
): void {
  const bottom = rect.y + rect.height;
  const sizeMm = look.pt * pointMm;
  let { y } = rect;
  remarks.forEach((text, i) => {
    if (y + sizeMm > bottom) return;
    board.text(`${i + 1}.`, [rect.x, y + sizeMm * 0.85], look);
    const words = { x: rect.x + sizeMm * 1.8, y, width: rect.width - sizeMm * 1.8 };
    y = paragraph(board, text, words, look, bottom) + sizeMm * 0.45;
  });
}
