import { channels } from '../../look/ink';
import type { RasterImage } from '../../worker/sheet-image';

/** Device pixels for one pixel of the sheet in every tile made here. */
export const tileRatio = 2;

/** A stroke of a tile, sheet pixels from the tile's north-west corner; a point when both ends are the same. */
export type Stroke = readonly [x1: number, y1: number, x2: number, y2: number];

interface Pen {
  readonly colour: string;
  /** 0 to 1. */
  readonly opacity: number;
  readonly widthPx: number;
}

/**
 * A seamless tile of parallel lines that go `run` across for each `rise` up, whole numbers without a common
 * divisor: only such slopes meet themselves at a square tile's edges.
 *
 * @param spacingPx - wanted distance between lines; the tile's whole pixels shift it by a few per cent
 */
export function hatchTile(run: number, rise: number, spacingPx: number, pen: Pen): RasterImage {
  const length = Math.hypot(run, rise);
  const size = Math.max(4, Math.round(spacingPx * tileRatio * length));
  const distancePx = new Float32Array(size * size);
  for (let row = 0, at = 0; row < size; row++) {
    for (let column = 0; column < size; column++, at++) {
      const across = ((column + 0.5) * rise + (row + 0.5) * run) % size;
      const wrapped = across < 0 ? across + size : across;
      distancePx[at] = Math.min(wrapped, size - wrapped) / length;
    }
  }
  return paint(size, distancePx, pen);
}

/** A seamless square tile of strokes; a stroke that leaves on one side comes back on the other. */
export function strokeTile(sizePx: number, strokes: readonly Stroke[], pen: Pen): RasterImage {
  const size = Math.round(sizePx * tileRatio);
  const distancePx = new Float32Array(size * size).fill(Infinity);
  // Only the pixels that a stroke can touch are looked at.
  const reach = Math.ceil((pen.widthPx * tileRatio) / 2 + 1);
  for (const stroke of strokes) {
    const [x1, y1, x2, y2] = stroke.map((place) => place * tileRatio);
    const bottom = Math.ceil(Math.max(y1, y2)) + reach;
    const right = Math.ceil(Math.max(x1, x2)) + reach;
    for (let y = Math.floor(Math.min(y1, y2)) - reach; y < bottom; y++) {
      for (let x = Math.floor(Math.min(x1, x2)) - reach; x < right; x++) {
        const at = (((y % size) + size) % size) * size + (((x % size) + size) % size);
        const distance = distanceToStroke(x + 0.5, y + 0.5, x1, y1, x2, y2);
        if (distance < distancePx[at]) distancePx[at] = distance;
      }
    }
  }
  return paint(size, distancePx, pen);
}

/** Paints a pen's width around lines at known distances from each pixel, edges smoothed over one device pixel. */
function paint(size: number, distancePx: Float32Array, pen: Pen): RasterImage {
  const data = new Uint8ClampedArray(size * size * 4);
  const [red, green, blue] = channels(pen.colour);
  const half = (pen.widthPx * tileRatio) / 2;
  for (let i = 0, at = 0; i < distancePx.length; i++, at += 4) {
    const cover = Math.min(1, Math.max(0, half + 0.5 - distancePx[i]));
    data[at] = red;
    data[at + 1] = green;
    data[at + 2] = blue;
    data[at + 3] = Math.round(255 * pen.opacity * cover);
  }
  return { width: size, height: size, data };
}

function distanceToStroke(
  x: number,
  y: number,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
): number {
  const dx = x2 - x1;
  const dy = y2 - y1;
  const squared = dx * dx + dy * dy;
  const along =
    squared === 0 ? 0 : Math.min(1, Math.max(0, ((x - x1) * dx + (y - y1) * dy) / squared));
  return Math.hypot(x - x1 - along * dx, y - y1 - along * dy);
}
