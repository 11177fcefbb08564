import { letters, type Board, type Lettered } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { pointMm, type Rect } from '../drawing/mark';

/** A cell: words in the column's letters, or in their own; or a band over the whole of it. */
export type Cell =
  string | { readonly text: string; readonly look: Lettered } | { readonly band: string };

export interface Column {
  readonly head: string;
  /** Of the table's width, in proportion to the other columns. */
  readonly width: number;
  readonly align?: 'start' | 'end';
  readonly look?: Lettered;
}

export interface Table {
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  /** Height of a row of one line, millimetres. */
  readonly rowMm?: number;
}

const gapMm = 1.6;
const usualRowMm = 4.6;
/** Height of capital letters as a share of the size. */
const capShare = 0.68;

interface Laid {
  readonly lines: readonly (readonly string[])[];
  readonly looks: readonly Lettered[];
  readonly heightMm: number;
}

/** White between figures that end a column and words that begin the next, millimetres. */
const apartMm = 2.4;

/** How far words of a column stand off its left edge: figures that end the column before would else touch them. */
function asideOf({ columns }: Table, i: number): number {
  const isAfterEnd = i > 0 && columns[i - 1].align === 'end';
  return isAfterEnd && columns[i].align !== 'end' ? apartMm : 0;
}

/** Widths of the columns in a table so wide. */
function widthsOf({ columns }: Table, widthMm: number): number[] {
  const all = columns.reduce((sum, { width }) => sum + width, 0);
  return columns.map(({ width }) => (width * widthMm) / all);
}

function laid(board: Board, table: Table, row: readonly Cell[], widths: readonly number[]): Laid {
  const { rowMm = usualRowMm } = table;
  const looks = row.map((cell, i) =>
    typeof cell === 'string' || 'band' in cell
      ? (table.columns[i].look ?? letters.figure)
      : cell.look,
  );
  const lines = row.map((cell, i) =>
    board.wrapped(wordsOf(cell), looks[i], widths[i] - gapMm - asideOf(table, i)),
  );
  const stepMm = (i: number): number => looks[i].pt * pointMm * 1.22;
  const heights = lines.map((each, i) => rowMm + Math.max(0, each.length - 1) * stepMm(i));
  return { lines, looks, heightMm: Math.max(...heights) };
}

function wordsOf(cell: Cell): string {
  if (typeof cell === 'string') return cell;
  return 'band' in cell ? '' : cell.text;
}

/**
 * Draws the head of a table and as many of its rows as fit into a height.
 *
 * @param from - the first row to be drawn: a table goes on where an earlier part of it ended.
 * @returns the first row that did not fit, and the height below the last that did.
 */
export function drawTable(
  board: Board,
  table: Table,
  { x, y, width, height }: Rect,
  from = 0,
): { next: number; y: number } {
  const { rowMm = usualRowMm } = table;
  const widths = widthsOf(table, width);
  const bottom = y + height;
  const starts = widths.map((_, i) => x + widths.slice(0, i).reduce((sum, each) => sum + each, 0));
  const placed = (text: string, i: number, atY: number, look: Lettered): void => {
    const isEnd = table.columns[i].align === 'end';
    const atX = isEnd ? starts[i] + widths[i] - gapMm : starts[i] + asideOf(table, i);
    board.text(text, [atX, atY], look, { align: isEnd ? 'end' : 'start' });
  };
  const heads = table.columns.map(({ head }, i) =>
    board.wrapped(head, letters.small, widths[i] - gapMm - asideOf(table, i)),
  );
  const deepest = Math.max(...heads.map(({ length }) => length));
  heads.forEach((lines, i) => {
    lines.forEach((line, k) => {
      placed(line, i, y + 2.6 + (deepest - lines.length + k) * 2.6, letters.small);
    });
  });
  let atY = y + 1.4 + deepest * 2.6;
  const rule = (widthMm: number, ink: string): void => {
    board.line(
      [
        [x, atY],
        [x + width, atY],
      ],
      { ink, widthMm },
    );
  };
  rule(pens.rule, inks.ink);
  let next = from;
  for (; next < table.rows.length; next++) {
    const row = laid(board, table, table.rows[next], widths);
    if (atY + row.heightMm > bottom) break;
    table.rows[next].forEach((cell, i) => {
      if (typeof cell === 'string' || !('band' in cell)) return;
      const band = { x: starts[i], y: atY + 1, width: widths[i], height: row.heightMm - 2 };
      board.box(band, { fill: cell.band });
    });
    row.lines.forEach((lines, i) => {
      const look = row.looks[i];
      lines.forEach((line, k) => {
        const firstMm = rowMm / 2 + (look.pt * pointMm * capShare) / 2;
        placed(line, i, atY + firstMm + k * look.pt * pointMm * 1.22, look);
      });
    });
    atY += row.heightMm;
    rule(pens.fine, inks.hair);
  }
  return { next, y: atY };
}

/** Height that a table takes whole. */
export function tableHeight(board: Board, table: Table, widthMm: number): number {
  const widths = widthsOf(table, widthMm);
  return table.rows.reduce((sum, row) => sum + laid(board, table, row, widths).heightMm, 5.2);
}
