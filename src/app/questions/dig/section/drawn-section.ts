import type { LayerMaterial } from '../../../../../lib/plan/basin-properties';

export type Point = readonly [x: number, y: number];

/** Pixels for a metre, and how many times heights are drawn larger than lengths. */
export interface SectionScale {
  readonly pxPerM: number;
  readonly exaggeration: number;
}

/** A text and where it goes. */
export interface SectionText {
  readonly text: string;
  readonly at: Point;
  readonly anchor: 'start' | 'middle' | 'end';
}

/** A dimension line with ticks at its ends. */
export interface SectionDimension {
  readonly id: string;
  readonly from: Point;
  readonly to: Point;
  readonly label: SectionText;
}

/** A height named at the right edge, with the line that leads to its name. */
export interface SectionLevel {
  readonly id: 'rim' | 'sill' | 'water' | 'floor' | 'bottom';
  readonly leader: readonly Point[];
  readonly label: SectionText;
}

/** A section as it is drawn: paths and places in pixels. */
export interface SectionLayout {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly scale: SectionScale;
  /** Ground as it was, and as it will be. */
  readonly before: string;
  readonly finished: string;
  /** All ground below the finished surface. */
  readonly earth: string;
  /** Ground that is heaped up. */
  readonly fill: readonly string[];
  readonly layers: readonly {
    readonly material: LayerMaterial;
    readonly path: string;
    readonly letter: SectionText | null;
  }[];
  readonly water: { readonly path: string; readonly surface: string; readonly mark: Point } | null;
  readonly sill: string;
  /** Seasonal high water and rock, where they are known and not far below the drawing. */
  readonly soilLines: readonly {
    readonly kind: 'water' | 'rock';
    readonly path: string;
    readonly label: SectionText;
  }[];
  readonly levels: readonly SectionLevel[];
  readonly dimensions: readonly SectionDimension[];
  readonly slope: SectionText;
  readonly ends: readonly SectionText[];
  readonly scaleBar: { readonly from: Point; readonly to: Point; readonly label: SectionText };
}

/** Height of a line of lettering. */
export const letteringPx = 12;
