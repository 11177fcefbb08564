import type { Fonts } from './fonts';
import { hatchLines, type Hatch } from './hatch';
import { inks } from './inks';
import {
  pointMm,
  rectRun,
  type At,
  type Face,
  type Mark,
  type Pen,
  type Rect,
  type Run,
} from './mark';

/** How letters look: size in typographic points, as the trade counts them. */
export interface Lettered {
  readonly face: Face;
  readonly pt: number;
  readonly ink: string;
}

/** The sizes of letters in use. */
export const letters = {
  body: { face: 'text', pt: 8, ink: inks.ink },
  bodyBold: { face: 'text-bold', pt: 8, ink: inks.ink },
  aside: { face: 'text', pt: 7, ink: inks.second },
  label: { face: 'label', pt: 7, ink: inks.ink },
  labelBold: { face: 'label-bold', pt: 7, ink: inks.ink },
  small: { face: 'label', pt: 6.2, ink: inks.second },
  figure: { face: 'label', pt: 8, ink: inks.ink },
  figureBold: { face: 'label-bold', pt: 8, ink: inks.ink },
  head: { face: 'label-bold', pt: 7.5, ink: inks.ink },
  title: { face: 'text-bold', pt: 10.5, ink: inks.ink },
  lot: { face: 'text-bold', pt: 15, ink: inks.ink },
} as const satisfies Record<string, Lettered>;

export interface TextPlace {
  readonly align?: 'start' | 'middle' | 'end';
  readonly turnDeg?: number;
}

/** Collects the marks of a page in the order in which they are drawn. */
export class Board {
  readonly fonts: Fonts;
  readonly marks: Mark[] = [];

  constructor(fonts: Fonts) {
    this.fonts = fonts;
  }

  line(run: Run, pen: Pen): void {
    if (run.length > 1) this.marks.push({ kind: 'lines', runs: [run], pen });
  }

  lines(runs: readonly Run[], pen: Pen): void {
    if (runs.length > 0) this.marks.push({ kind: 'lines', runs, pen });
  }

  area(rings: readonly Run[], look: { readonly fill?: string; readonly pen?: Pen }): void {
    if (rings.length > 0) this.marks.push({ kind: 'area', rings, ...look });
  }

  box(rect: Rect, look: { readonly fill?: string; readonly pen?: Pen }): void {
    this.area([rectRun(rect)], look);
  }

  circles(
    centres: readonly At[],
    radiusMm: number,
    look: { readonly fill?: string; readonly pen?: Pen },
  ): void {
    if (centres.length > 0) this.marks.push({ kind: 'circles', centres, radiusMm, ...look });
  }

  /** Hatches what lies inside all of the areas. */
  hatch(areas: readonly (readonly Run[])[], hatch: Hatch, ink: string, widthMm = 0.13): void {
    this.lines(hatchLines(areas, hatch), { ink, widthMm });
  }

  text(text: string, at: At, look: Lettered, place: TextPlace = {}): void {
    if (text === '') return;
    const { align = 'start', turnDeg = 0 } = place;
    this.marks.push({
      kind: 'text',
      at,
      text,
      face: look.face,
      sizeMm: look.pt * pointMm,
      ink: look.ink,
      align,
      turnDeg,
      widthMm: this.widthMm(text, look),
    });
  }

  widthMm(text: string, { face, pt }: Lettered): number {
    return this.fonts.widthMm(text, face, pt * pointMm);
  }

  /** A text broken into lines that are no wider than asked; a word that is wider alone is cut. */
  wrapped(text: string, look: Lettered, widthMm: number): string[] {
    const lines: string[] = [];
    let line = '';
    for (const word of text.split(/\s+/).filter((each) => each !== '')) {
      const longer = line === '' ? word : `${line} ${word}`;
      if (this.widthMm(longer, look) <= widthMm) {
        line = longer;
        continue;
      }
      if (line !== '') lines.push(line);
      line = word;
      while (this.widthMm(line, look) > widthMm) {
        const cut = this.#fitting(line, look, widthMm);
        lines.push(line.slice(0, cut));
        line = line.slice(cut);
      }
    }
    if (line !== '') lines.push(line);
    return lines;
  }

  /** A text that ends in an ellipsis where it is wider than asked. */
  cut(text: string, look: Lettered, widthMm: number): string {
    if (this.widthMm(text, look) <= widthMm) return text;
    const room = widthMm - this.widthMm('…', look);
    return `${text.slice(0, this.#fitting(text, look, room)).trimEnd()}…`;
  }

  /** How many signs of a text fit, one at least. */
  #fitting(text: string, look: Lettered, widthMm: number): number {
    let count = 0;
    for (const sign of text) {
      const next = count + sign.length;
      if (count > 0 && this.widthMm(text.slice(0, next), look) > widthMm) break;
      count = next;
    }
    return count;
  }
}
