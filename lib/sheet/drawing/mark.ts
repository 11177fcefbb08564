/**
 * The one drawing that screen, paper and file share: plain data in millimetres of paper, the origin at the upper left, y
 * down. Every writer draws the marks of a page in order, later ones over earlier ones.
 */

/** A place on the paper, millimetres. */
export type At = readonly [x: number, y: number];

/** Corners or points in order; where an area is meant the first is not repeated. */
export type Run = readonly At[];

/** A line as a pen draws it. */
export interface Pen {
  readonly ink: string;
  readonly widthMm: number;
  /** Lengths of dashes and gaps in turn, millimetres. */
  readonly dashMm?: readonly number[];
}

/** What letters are cut from: text for reading, labels for drawings and figures. */
export type Face = 'text' | 'text-bold' | 'label' | 'label-bold';

export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Open lines. */
export interface LinesMark {
  readonly kind: 'lines';
  readonly runs: readonly Run[];
  readonly pen: Pen;
}

/** Areas: inside by counting crossings, so that rings within rings are holes. */
export interface AreaMark {
  readonly kind: 'area';
  readonly rings: readonly Run[];
  readonly fill?: string;
  readonly pen?: Pen;
}

/** Circles of one size. */
export interface CirclesMark {
  readonly kind: 'circles';
  readonly centres: readonly At[];
  readonly radiusMm: number;
  readonly fill?: string;
  readonly pen?: Pen;
}

/** One line of letters. `at` lies on the base line. */
export interface TextMark {
  readonly kind: 'text';
  readonly at: At;
  readonly text: string;
  readonly face: Face;
  readonly sizeMm: number;
  readonly ink: string;
  readonly align: 'start' | 'middle' | 'end';
  /** Turned about `at`, degrees clockwise. */
  readonly turnDeg: number;
  /** As the fonts have it; it says how far the letters reach without asking them again. */
  readonly widthMm: number;
}

/** A picture without transparency, as PNG bytes. */
export interface PictureMark {
  readonly kind: 'picture';
  readonly rect: Rect;
  readonly png: Uint8Array;
}

/** Marks of which only what lies inside an outline is seen. */
export interface ClippedMark {
  readonly kind: 'clipped';
  readonly outline: readonly Run[];
  readonly marks: readonly Mark[];
}

export type Mark = LinesMark | AreaMark | CirclesMark | TextMark | PictureMark | ClippedMark;

/** One sheet of paper, drawn. */
export interface SheetPage {
  /** Short name by which a page can be asked for. */
  readonly name: string;
  readonly title: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly marks: readonly Mark[];
  /** What the page lacks and why, a sentence each; empty where it has all that belongs on it. */
  readonly missing: readonly string[];
}

/** The set: its pages, and what a reader's program may show of it. */
export interface Sheet {
  readonly title: string;
  /** The day that the sheet is of, written year-month-day. */
  readonly date: string;
  readonly pages: readonly SheetPage[];
}

/** Outline of a rectangle. */
export function rectRun({ x, y, width, height }: Rect): Run {
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
}

/** Points a rectangle leaves out on each side. */
export function inset({ x, y, width, height }: Rect, byMm: number): Rect {
  return { x: x + byMm, y: y + byMm, width: width - 2 * byMm, height: height - 2 * byMm };
}

/** Millimetres of a typographic point: 1/72 inch. */
export const pointMm = 25.4 / 72;
