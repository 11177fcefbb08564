import { papers, type PageFrame } from '../paper/paper';
import type { Board, Lettered } from '../drawing/board';
import { letters } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { inset, type At, type Pen, type Rect } from '../drawing/mark';
import type { SheetFacts } from '../facts/sheet-facts';
import { titleCells, type TitleCell } from '../facts/title-cells';

/** Which page it is, for its title block. */
export interface PageNumber {
  readonly title: string;
  readonly scale: string;
  readonly number: number;
  readonly of: number;
}

const heavy: Pen = { ink: inks.ink, widthMm: pens.heavy };
const rule: Pen = { ink: inks.ink, widthMm: pens.rule };
const thin: Pen = { ink: inks.hair, widthMm: pens.thin };

/** Sheet edge, fields that notes can name, neat line and title block. */
export function drawFrame(
  board: Board,
  frame: PageFrame,
  facts: SheetFacts,
  page: PageNumber,
): void {
  drawEdge(board, frame);
  board.box(frame.neat, { pen: heavy });
  drawTitleBlock(board, frame, facts, page);
}

/** Fields of about 50 mm from the middle of each side: letters down, figures across. */
const fieldMm = 50;
const edgeBandMm = 5;

function drawEdge(board: Board, { neat }: PageFrame): void {
  const edge = inset(neat, -edgeBandMm);
  board.box(edge, { pen: { ink: inks.ink, widthMm: pens.fine } });
  const across = fields(neat.x, neat.width);
  const down = fields(neat.y, neat.height);
  const pen: Pen = { ink: inks.ink, widthMm: pens.fine };
  const tick = (from: At, to: At): void => {
    board.line([from, to], pen);
  };
  for (const { from, middle, index } of across) {
    if (index > 0) {
      tick([from, edge.y], [from, neat.y]);
      tick([from, neat.y + neat.height], [from, edge.y + edge.height]);
    }
    for (const y of [edge.y, neat.y + neat.height]) {
      board.text(String(index + 1), [middle, y + 3.3], letters.small, { align: 'middle' });
    }
  }
  for (const { from, middle, index } of down) {
    if (index > 0) {
      tick([edge.x, from], [neat.x, from]);
      tick([neat.x + neat.width, from], [edge.x + edge.width, from]);
    }
    for (const x of [edge.x, neat.x + neat.width]) {
      const letter = 'ABCDEFGH'.charAt(index);
      board.text(letter, [x + edgeBandMm / 2, middle + 0.8], letters.small, { align: 'middle' });
    }
  }
}

function fields(
  start: number,
  lengthMm: number,
): { from: number; middle: number; index: number }[] {
  const count = Math.max(2, 2 * Math.round(lengthMm / fieldMm / 2));
  const each = lengthMm / count;
  return Array.from({ length: count }, (_, index) => ({
    from: start + index * each,
    middle: start + (index + 0.5) * each,
    index,
  }));
}

function drawTitleBlock(
  board: Board,
  { titleBlock: rect, paper }: PageFrame,
  facts: SheetFacts,
  { title, scale, number, of }: PageNumber,
): void {
  board.box(rect, { fill: inks.paper, pen: heavy });
  const { x, y, width, height } = rect;
  const across = (atY: number, pen: Pen): void => {
    board.line(
      [
        [x, atY],
        [x + width, atY],
      ],
      pen,
    );
  };
  const numberX = x + width - 22;
  board.text('LOTFALL', [x + 3, y + 4], letters.small);
  board.text(board.cut(facts.title, letters.lot, width - 28), [x + 3, y + 10.6], letters.lot);
  board.line(
    [
      [numberX, y],
      [numberX, y + 14],
    ],
    rule,
  );
  board.text('SHEET', [numberX + 2, y + 4], letters.small);
  board.text(`${number} of ${of}`, [numberX + 2, y + 10.6], { ...letters.title, pt: 12 });
  across(y + 14, rule);
  const scaleWords = scale === '' ? papers[paper].words : `${scale} on ${papers[paper].words}`;
  const scaleWidth = board.widthMm(scaleWords, letters.label);
  board.text(
    board.cut(title, letters.title, width - scaleWidth - 9),
    [x + 3, y + 19.6],
    letters.title,
  );
  board.text(scaleWords, [x + width - 3, y + 19.6], letters.label, { align: 'end' });
  across(y + 22.5, rule);
  const cellsBottom = y + height - 13;
  const cellHeight = (cellsBottom - y - 22.5) / 2;
  titleCells(facts).forEach((cell, i) => {
    const cellRect = {
      x: x + ((i % 3) * width) / 3,
      y: y + 22.5 + Math.floor(i / 3) * cellHeight,
      width: width / 3,
      height: cellHeight,
    };
    drawCell(board, cellRect, cell);
    if (i % 3 > 0) {
      board.line(
        [
          [cellRect.x, cellRect.y],
          [cellRect.x, cellRect.y + cellHeight],
        ],
        thin,
      );
    }
  });
  across(y + 22.5 + cellHeight, thin);
  across(cellsBottom, rule);
  drawRevisions(board, { x, y: cellsBottom, width, height: 13 }, facts);
}

function drawCell(
  board: Board,
  { x, y, width, height }: Rect,
  { head, words, ink }: TitleCell,
): void {
  board.text(head, [x + 2.5, y + 3], { ...letters.small, pt: 5.6 });
  const look = { ...letters.label, pt: 6.6, ink: ink ?? inks.ink };
  const lines = board.wrapped(words, look, width - 4.5);
  const room = Math.max(1, Math.floor((height - 4) / 2.9));
  lines.slice(0, room).forEach((line, i) => {
    const text =
      i === room - 1 && lines.length > room ? board.cut(`${line} …`, look, width - 4) : line;
    board.text(text, [x + 2.5, y + 6.2 + i * 2.9], look);
  });
}

/** The newest two; the whole list stands on the last page. */
function drawRevisions(board: Board, { x, y, width }: Rect, { plan, date }: SheetFacts): void {
  const revisions = plan.plan.lotfall.revisions ?? [];
  const columns = [x + 2.5, x + 11, x + 28];
  const row = (atY: number, cells: readonly string[], look: Lettered = letters.small): void => {
    cells.forEach((cell, i) => {
      const end = columns[i + 1] ?? x + width - 2;
      board.text(board.cut(cell, look, end - columns[i] - 1), [columns[i], atY], look);
    });
  };
  row(y + 3.3, ['Rev', 'Date', 'What changed'], { ...letters.small, pt: 5.6 });
  const newest = [...revisions].sort((a, b) => (a.on < b.on ? 1 : -1)).slice(0, 2);
  if (newest.length === 0) row(y + 7, ['–', date, 'no revision on record']);
  newest.forEach(({ mark, on, what }, i) => {
    row(y + 7 + i * 3.6, [mark ?? '', on, what]);
  });
}
