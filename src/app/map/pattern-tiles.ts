import { channels } from './ink';
import type { RasterImage } from './map-props';

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
  return paint(size, pen, (x, y) => {
    const across = (((x * rise + y * run) % size) + size) % size;
    return Math.min(across, size - across) / length;
  });
}

/** A seamless square tile of strokes; a stroke that leaves on one side comes back on the other. */
export function strokeTile(sizePx: number, strokes: readonly Stroke[], pen: Pen): RasterImage {
  const size = Math.round(sizePx * tileRatio);
  return paint(size, pen, (x, y) => {
    let nearest = Infinity;
    for (const [x1, y1, x2, y2] of strokes) {
      for (let dy = -size; dy <= size; dy += size) {
        for (let dx = -size; dx <= size; dx += size) {
          const distance = distanceToStroke(
            x + dx,
            y + dy,
            x1 * tileRatio,
            y1 * tileRatio,
            x2 * tileRatio,
            y2 * tileRatio,
          );
          if (distance < nearest) nearest = distance;
        }
      }
    }
    return nearest;
  });
}

/** Paints a pen's width around a distance field, edges smoothed over one device pixel. */
function paint(size: number, pen: Pen, distanceAt: (x: number, y: number) => number): RasterImage {
  const data = new Uint8ClampedArray(size * size * 4);
  const [red, green, blue] = channels(pen.colour);
  const half = (pen.widthPx * tileRatio) / 2;
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < size; column++) {
      const cover = Math.min(1, Math.max(0, half + 0.5 - distanceAt(column + 0.5, row + 0.5)));
      const at = (row * size + column) * 4;
      data[at] = red;
      data[at + 1] = green;
      data[at + 2] = blue;
      data[at + 3] = Math.round(255 * pen.opacity * cover);
    }
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
