import type { LayerMaterial } from '../../../../../lib/plan/basin-properties';

/** A hatch that repeats: its tile in pixels and what is drawn in it. Each differs in form, not only in tone. */
export interface MaterialHatch {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Strokes. */
  readonly lines: string;
  /** Dots and rings, as circles. */
  readonly dots: readonly (readonly [x: number, y: number, radius: number])[];
  /** Whether the circles are filled. */
  readonly filled: boolean;
}

export const materialHatches: Readonly<Record<LayerMaterial, MaterialHatch>> = {
  /** Shreds lying this way and that. */
  mulch: {
    widthPx: 16,
    heightPx: 9,
    lines: 'M1 3L6 1.5M9 2.5L13 4M3 7.5L8 6.5M11 8L15 6.5',
    dots: [],
    filled: true,
  },
  /** Crumbs among short roots. */
  'planting-mix': {
    widthPx: 14,
    heightPx: 12,
    lines: 'M3 4.5V1.5M3 3L5 1.5M10 10.5V7.5M10 9L8 7.5',
    dots: [
      [8, 3, 0.8],
      [12.5, 4.5, 0.6],
      [4, 8.5, 0.8],
      [1, 10.5, 0.6],
    ],
    filled: true,
  },
  /** Crossed strokes. */
  compost: {
    widthPx: 9,
    heightPx: 9,
    lines: 'M0 9L9 0M0 0L9 9',
    dots: [],
    filled: true,
  },
  /** Strokes that rise to the right, in pairs. */
  topsoil: {
    widthPx: 12,
    heightPx: 12,
    lines: 'M0 12L12 0M-3 3L3 -3M9 15L15 9M4 12L12 4',
    dots: [],
    filled: true,
  },
  /** Fine dots. */
  'coarse-sand': {
    widthPx: 9,
    heightPx: 8,
    lines: '',
    dots: [
      [1.5, 1.5, 0.65],
      [6, 3, 0.65],
      [3.5, 5.5, 0.65],
      [8, 7, 0.65],
    ],
    filled: true,
  },
  /** Rings. */
  gravel: {
    widthPx: 16,
    heightPx: 13,
    lines: '',
    dots: [
      [4, 3.5, 2.6],
      [11.5, 4.5, 2.1],
      [6.5, 9.8, 2.2],
      [13.8, 10.8, 1.6],
    ],
    filled: false,
  },
};
