import type { Rect } from '../drawing/mark';

/** Papers that the sheet is drawn on, upright, millimetres. ISO 216 and ANSI/ASME Y14.1, from memory. */
export const papers = {
  a4: { widthMm: 210, heightMm: 297, words: 'A4' },
  a3: { widthMm: 297, heightMm: 420, words: 'A3' },
  letter: { widthMm: 215.9, heightMm: 279.4, words: 'Letter' },
  tabloid: { widthMm: 279.4, heightMm: 431.8, words: 'Tabloid' },
} as const;

export type PaperName = keyof typeof papers;
export type Orientation = 'portrait' | 'landscape';
export const paperNames = Object.keys(papers) as PaperName[];

/** How a page is divided. */
export interface PageFrame {
  readonly paper: PaperName;
  readonly orientation: Orientation;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Inside the neat line. */
  readonly neat: Rect;
  /** What is left for a drawing. */
  readonly drawing: Rect;
  /** For words beside a drawing. */
  readonly notes: Rect;
  readonly titleBlock: Rect;
}

/** Kept free along the edge for binding and for printers. */
const edgeMm = { left: 20, other: 10 } as const;
/** For papers that are smaller a title block and margins of the large ones would leave little. */
const smallEdgeMm = { left: 14, other: 8 } as const;

/** Divides a paper: on a wide one words and title block stand at the right, on an upright one below. */
export function pageFrame(paper: PaperName, orientation: Orientation): PageFrame {
  const upright = papers[paper];
  const isWide = orientation === 'landscape';
  const [widthMm, heightMm] = isWide
    ? [upright.heightMm, upright.widthMm]
    : [upright.widthMm, upright.heightMm];
  const isSmall = upright.heightMm < 350;
  const edge = isSmall ? smallEdgeMm : edgeMm;
  const neat: Rect = {
    x: edge.left,
    y: edge.other,
    width: widthMm - edge.left - edge.other,
    height: heightMm - 2 * edge.other,
  };
  const common = { paper, orientation, widthMm, heightMm, neat };
  const right = neat.x + neat.width;
  const bottom = neat.y + neat.height;
  const blockHeight = isSmall ? 52 : 61;
  if (isWide) {
    const columnWidth = isSmall ? 76 : 104;
    const x = right - columnWidth;
    return {
      ...common,
      drawing: { ...neat, width: neat.width - columnWidth },
      notes: { x, y: neat.y, width: columnWidth, height: neat.height - blockHeight },
      titleBlock: { x, y: bottom - blockHeight, width: columnWidth, height: blockHeight },
    };
  }
  const notesHeight = isSmall ? 56 : 96;
  return {
    ...common,
    drawing: { ...neat, height: neat.height - blockHeight - notesHeight },
    notes: {
      x: neat.x,
      y: bottom - blockHeight - notesHeight,
      width: neat.width,
      height: notesHeight,
    },
    titleBlock: { x: neat.x, y: bottom - blockHeight, width: neat.width, height: blockHeight },
  };
}
