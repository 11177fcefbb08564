import { Board, letters, type Lettered } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { pointMm, type Rect } from '../drawing/mark';
import { heading, padded, type Leaf, type Making } from './leaf';
import { drawTable, tableHeight, type Table } from './table';

interface Paragraph {
  readonly text: string;
  readonly look: Lettered;
}

/** A piece of a page of words. */
export type Block =
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'text'; readonly text: string; readonly look?: Lettered }
  /** Paragraphs close below one another; the first stands with the second. */
  | { readonly kind: 'lines'; readonly lines: readonly Paragraph[] }
  | { readonly kind: 'items'; readonly items: readonly string[]; readonly look?: Lettered }
  | { readonly kind: 'table'; readonly table: Table }
  /** Drawn whole by whoever gives it; never parted. */
  | {
      readonly kind: 'figure';
      readonly heightMm: (board: Board, widthMm: number) => number;
      readonly draw: (board: Board, rect: Rect) => void;
    }
  /** Empty lines to be written on, each under a caption. */
  | { readonly kind: 'blanks'; readonly captions: readonly string[] };

/** How far a list of blocks has been set: the block, and within it the line, item or row. */
interface Place {
  readonly block: number;
  readonly part: number;
}

const gapMm = 2.2;
/** A heading stands with as much below it as this at least, millimetres. */
const withHeadingMm = 14;
/** Less of a column is not worth going on in, millimetres. */
const leastRestMm = 9;

/** What a page of words holds: beside its main part, words in the column of the title block. */
export interface FlowParts {
  readonly main: readonly Block[];
  readonly side: readonly Block[];
  /** Columns of the main part on a wide paper. */
  readonly columns?: number;
}

/** Pages of words and tables, as many as it takes: what does not fit goes on with its head repeated. */
export function flowLeaves(
  making: Pick<Making, 'frame' | 'fonts'>,
  about: { readonly name: string; readonly title: string; readonly missing?: readonly string[] },
  parts: FlowParts,
): Leaf[] {
  const { frame, fonts } = making;
  const leaves: Leaf[] = [];
  let main: Place | null = { block: 0, part: 0 };
  let side: Place | null = { block: 0, part: 0 };
  while (main !== null || side !== null) {
    const board = new Board(fonts);
    const field = padded(frame.drawing);
    const columns = columnsOf(field, parts.columns ?? 1);
    side = side && setInto(board, padded(frame.notes), parts.side, side).next;
    const set: Reached | null =
      main && setColumns(board, evened(board, columns, parts.main, main), parts.main, main);
    main = set === null ? null : set.next;
    // Words that found no room beside the main part go on in what that leaves free.
    if (main === null && side !== null) {
      for (const rect of freeOf(columns, set)) {
        side = side && setInto(board, rect, parts.side, side).next;
      }
    }
    divide(board, making);
    const number = leaves.length + 1;
    leaves.push({
      name: number === 1 ? about.name : `${about.name}-${number}`,
      title: number === 1 ? about.title : `${about.title}, continued`,
      scale: '',
      board,
      missing: number === 1 ? (about.missing ?? []) : [],
    });
    if (number > mostPages) break;
  }
  return leaves;
}

/** No list is so long; a fault of the setting would else never end. */
const mostPages = 60;

function columnsOf(rect: Rect, asked: number): Rect[] {
  // Below this no table can be read.
  const count = Math.max(1, Math.min(asked, Math.floor(rect.width / 105)));
  const width = (rect.width - (count - 1) * 6) / count;
  return Array.from({ length: count }, (_, i) => ({ ...rect, x: rect.x + i * (width + 6), width }));
}

/** The line between the main part and the words beside it. */
function divide(board: Board, { frame }: Pick<Making, 'frame'>): void {
  const { notes } = frame;
  const isBeside = frame.orientation === 'landscape';
  board.line(
    isBeside
      ? [
          [notes.x, notes.y],
          [notes.x, notes.y + notes.height],
        ]
      : [
          [notes.x, notes.y],
          [notes.x + notes.width, notes.y],
        ],
    { ink: inks.ink, widthMm: pens.rule },
  );
}

/** How far blocks were set: where to go on, `null` when all are set, and the height reached in the last column. */
interface Reached {
  readonly next: Place | null;
  readonly column: number;
  readonly y: number;
}

function setColumns(
  board: Board,
  columns: readonly Rect[],
  blocks: readonly Block[],
  from: Place,
): Reached {
  let reached: Reached = { next: from, column: 0, y: columns[0].y };
  columns.forEach((rect, column) => {
    if (reached.next === null) return;
    reached = { ...setInto(board, rect, blocks, reached.next), column };
  });
  return reached;
}

/** What is left of the columns below and beside what was set. */
function freeOf(columns: readonly Rect[], set: Reached | null): Rect[] {
  if (set === null) return [...columns];
  const { column, y } = set;
  const at = columns[column];
  const startY = y + gapMm;
  const rest = { ...at, y: startY, height: at.y + at.height - startY };
  return [...(rest.height > leastRestMm ? [rest] : []), ...columns.slice(column + 1)];
}

/** Columns cut so that what goes on one page ends about level in all of them. */
function evened(
  board: Board,
  columns: readonly Rect[],
  blocks: readonly Block[],
  from: Place,
): readonly Rect[] {
  const [{ height }] = columns;
  const holds = (heightMm: number): boolean => {
    const tried = columns.map((rect) => ({ ...rect, height: heightMm }));
    return setColumns(new Board(board.fonts), tried, blocks, from).next === null;
  };
  if (columns.length === 1 || !holds(height)) return columns;
  let [low, high] = [height / columns.length / 2, height];
  for (let i = 0; i < 7; i++) {
    const middle = (low + high) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return columns.map((rect) => ({ ...rect, height: high }));
}

/** Sets blocks into a rectangle; gives the place to go on at, `null` when all are set. */
function setInto(
  board: Board,
  rect: Rect,
  blocks: readonly Block[],
  from: Place,
): { next: Place | null; y: number } {
  const bottom = rect.y + rect.height;
  let { y } = rect;
  let { block, part } = from;
  for (; block < blocks.length; block++, part = 0) {
    const each = blocks[block];
    const isLow =
      each.kind === 'heading' && y > rect.y && bottom - y < needed(board, rect, blocks, block);
    if (isLow) return { next: { block, part: 0 }, y };
    const set = setBlock(board, { ...rect, y, height: bottom - y }, each, part);
    const isEmpty = y === rect.y;
    y = set.y + gapMm;
    if (set.next !== null) {
      // What does not fit into an empty column never will: it is left out rather than tried for ever.
      const isStuck = isEmpty && set.next === part;
      return { next: isStuck ? { block: block + 1, part: 0 } : { block, part: set.next }, y };
    }
  }
  return { next: null, y };
}

/** A heading wants the whole of a short table below it, else some of what follows. */
function needed(board: Board, rect: Rect, blocks: readonly Block[], at: number): number {
  const after = blocks.at(at + 1);
  if (after?.kind === 'figure') return 10 + after.heightMm(board, rect.width);
  if (after?.kind !== 'table') return withHeadingMm + 6;
  return 8 + Math.min(tableHeight(board, after.table, rect.width), 0.4 * rect.height, 60);
}

/** Part of a block into what is left of a column: where to go on, `null` when it is done. */
function setBlock(
  board: Board,
  rect: Rect,
  block: Block,
  part: number,
): { readonly y: number; readonly next: number | null } {
  const { y, height } = rect;
  switch (block.kind) {
    case 'heading':
      if (height < withHeadingMm) return { y, next: 0 };
      return { y: heading(board, block.text, { ...rect, y: y + 1 }) - gapMm, next: null };
    case 'text':
      return setLines(board, rect, block.text, block.look ?? letters.body, part);
    case 'lines':
      return setParagraphs(board, rect, block.lines, part);
    case 'items':
      return setItems(board, rect, block, part);
    case 'table': {
      if (height < withHeadingMm) return { y, next: part };
      const drawn = drawTable(board, block.table, rect, part);
      const isDone = drawn.next >= block.table.rows.length;
      return { y: drawn.next === part && !isDone ? y : drawn.y, next: isDone ? null : drawn.next };
    }
    case 'figure': {
      const figureMm = block.heightMm(board, rect.width);
      if (figureMm > height) return { y, next: part };
      block.draw(board, { ...rect, height: figureMm });
      return { y: y + figureMm, next: null };
    }
    case 'blanks':
      return setBlanks(board, rect, block.captions, part);
  }
}

function lineMm({ pt }: Lettered): number {
  return pt * pointMm * 1.32;
}

function setLines(
  board: Board,
  { x, y, width, height }: Rect,
  text: string,
  look: Lettered,
  from: number,
): { y: number; next: number | null } {
  const stepMm = lineMm(look);
  const lines = board.wrapped(text, look, width);
  const room = Math.max(0, Math.floor(height / stepMm));
  const end = Math.min(lines.length, from + room);
  lines.slice(from, end).forEach((line, i) => {
    board.text(line, [x, y + i * stepMm + look.pt * pointMm * 0.85], look);
  });
  return { y: y + (end - from) * stepMm, next: end < lines.length ? end : null };
}

/** Whole paragraphs; the first not without the second. */
function setParagraphs(
  board: Board,
  { x, y: top, width, height }: Rect,
  paragraphs: readonly Paragraph[],
  from: number,
): { y: number; next: number | null } {
  const bottom = top + height;
  const tall = ({ text, look }: Paragraph): number =>
    board.wrapped(text, look, width).length * lineMm(look);
  let y = top;
  for (let i = from; i < paragraphs.length; i++) {
    const with2nd = i === 0 && paragraphs.length > 1 ? tall(paragraphs[1]) : 0;
    if (y + tall(paragraphs[i]) + with2nd > bottom) return { y, next: i };
    const { text, look } = paragraphs[i];
    y = setLines(board, { x, y, width, height: bottom - y + 0.01 }, text, look, 0).y + 0.4;
  }
  return { y, next: null };
}

function setItems(
  board: Board,
  rect: Rect,
  { items, look = letters.body }: Extract<Block, { kind: 'items' }>,
  from: number,
): { y: number; next: number | null } {
  const indentMm = 5;
  const stepMm = lineMm(look);
  let { y } = rect;
  const bottom = rect.y + rect.height;
  for (let i = from; i < items.length; i++) {
    const lines = board.wrapped(items[i], look, rect.width - indentMm);
    if (y + lines.length * stepMm > bottom) return { y, next: i };
    board.text(`${i + 1}.`, [rect.x, y + look.pt * pointMm * 0.85], look);
    lines.forEach((line, k) => {
      board.text(line, [rect.x + indentMm, y + k * stepMm + look.pt * pointMm * 0.85], look);
    });
    y += lines.length * stepMm + 0.9;
  }
  return { y, next: null };
}

const blankMm = 11;

function setBlanks(
  board: Board,
  { x, y, width, height }: Rect,
  captions: readonly string[],
  from: number,
): { y: number; next: number | null } {
  const room = Math.floor(height / blankMm);
  const end = Math.min(captions.length, from + room);
  captions.slice(from, end).forEach((caption, i) => {
    const lineY = y + (i + 1) * blankMm - 3.4;
    board.line(
      [
        [x, lineY],
        [x + width, lineY],
      ],
      { ink: inks.ink, widthMm: pens.fine },
    );
    board.text(caption, [x, lineY + 2.7], letters.small);
  });
  return { y: y + (end - from) * blankMm, next: end < captions.length ? end : null };
}
