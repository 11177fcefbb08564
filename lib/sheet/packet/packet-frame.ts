import type { Board } from '../drawing/board';
import { letters } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { papers, type PageFrame, type PaperName } from '../paper/paper';

/** Height of the strip below each page, millimetres. */
const stripMm = 13;
const edgeMm = { left: 18, right: 12, other: 10 } as const;

/** An upright page for a file: a wide edge for the holes, and instead of a title block a strip below. */
export function packetFrame(paper: PaperName): PageFrame {
  const { widthMm, heightMm } = papers[paper];
  const neat = {
    x: edgeMm.left,
    y: edgeMm.other,
    width: widthMm - edgeMm.left - edgeMm.right,
    height: heightMm - 2 * edgeMm.other,
  };
  const stripY = neat.y + neat.height - stripMm;
  return {
    paper,
    orientation: 'portrait',
    widthMm,
    heightMm,
    neat,
    drawing: { ...neat, height: neat.height - stripMm },
    notes: { ...neat, y: stripY, height: 0 },
    titleBlock: { ...neat, y: stripY, height: stripMm },
  };
}

/** What stands at the foot of every page, so that a page that is taken out still says where it belongs. */
export interface Footing {
  readonly title: string;
  readonly left: string;
  readonly right: string;
  readonly number: number;
  readonly of: number;
}

export function drawFooting(
  board: Board,
  { neat, titleBlock: { x, y, width } }: PageFrame,
  { title, left, right, number, of }: Footing,
): void {
  board.box(neat, { pen: { ink: inks.ink, widthMm: pens.rule } });
  const end = x + width - 3;
  const count = `page ${number} of ${of}`;
  board.text(count, [end, y + 5], letters.labelBold, { align: 'end' });
  const room = width - 10 - board.widthMm(count, letters.labelBold);
  board.text(board.cut(title, letters.labelBold, room), [x + 3, y + 5], letters.labelBold);
  board.text(right, [end, y + 9.6], letters.small, { align: 'end' });
  const rest = width - 10 - board.widthMm(right, letters.small);
  board.text(board.cut(left, letters.small, rest), [x + 3, y + 9.6], letters.small);
}
