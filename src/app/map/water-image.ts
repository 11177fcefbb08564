import type { CellWindow } from './grid-corners';
import { channels, inkOf } from './ink';
import type { RasterImage, Theme } from './map-props';

/** Depths at which the colour of standing water changes and a depth line is drawn, metres. */
export const depthStepsM: readonly number[] = [0.02, 0.05, 0.1, 0.2, 0.4, 0.8];

/** Water thinner than this is not drawn. */
const filmM = 0.003;

export interface WaterImage {
  readonly image: RasterImage;
  /** The cells that the image covers; for its corners see `gridCorners(grid, window)`. */
  readonly window: CellWindow;
}

/**
 * Standing water as an image: one hue, deeper where the water is deeper, in steps with a line at each step
 * and at the shore. `null` when there is none.
 *
 * Depth is interpolated between cell centres, so that the lines are smooth; cells without water or data
 * count as depth 0.
 *
 * @param depthM - row-major from the north-west, `width * height` values, metres; `NaN` is no data
 * @param options.scale - pixels for one cell side; lowered so that no side exceeds 4096 pixels
 * Cost: linear in the pixels of the wet cells' bounding box; 1 megapixel takes about 25 ms.
 */
export function waterImage(
  depthM: Float32Array,
  width: number,
  height: number,
  options: { theme: Theme; scale?: number },
): WaterImage | null {
  const window = wetWindow(depthM, width, height);
  if (window === null) return null;
  const { column, row, columns, rows } = window;
  const scale = Math.max(
    1,
    Math.min(options.scale ?? 6, Math.floor(4096 / Math.max(columns, rows))),
  );
  const imageWidth = columns * scale;
  const imageHeight = rows * scale;
  const step = new Uint8Array(imageWidth * imageHeight);

  const depthAt = (atColumn: number, atRow: number): number => {
    if (atColumn < 0 || atRow < 0 || atColumn >= width || atRow >= height) return 0;
    const depth = depthM[atRow * width + atColumn]!;
    return depth > 0 ? depth : 0;
  };
  for (let y = 0; y < imageHeight; y++) {
    const v = row + (y + 0.5) / scale - 0.5;
    const top = Math.floor(v);
    const down = v - top;
    for (let x = 0; x < imageWidth; x++) {
      const u = column + (x + 0.5) / scale - 0.5;
      const left = Math.floor(u);
      const right = u - left;
      const depth =
        (depthAt(left, top) * (1 - right) + depthAt(left + 1, top) * right) * (1 - down) +
        (depthAt(left, top + 1) * (1 - right) + depthAt(left + 1, top + 1) * right) * down;
      step[y * imageWidth + x] = stepOf(depth);
    }
  }
  return { image: colourSteps(step, imageWidth, imageHeight, options.theme), window };
}

/** 0 dry, 1 a film up to the first step, then one more for each step reached. */
function stepOf(depthM: number): number {
  if (depthM < filmM) return 0;
  let step = 1;
  for (const from of depthStepsM) if (depthM >= from) step++;
  return step;
}

/** The bounding box of the wet cells, one cell wider on each side where the grid allows; `null` if dry. */
function wetWindow(depthM: Float32Array, width: number, height: number): CellWindow | null {
  let west = width;
  let east = -1;
  let north = height;
  let south = -1;
  for (let row = 0, index = 0; row < height; row++) {
    for (let column = 0; column < width; column++, index++) {
      if (!(depthM[index]! >= filmM)) continue;
      if (column < west) west = column;
      if (column > east) east = column;
      if (row < north) north = row;
      if (row > south) south = row;
    }
  }
  if (east < 0) return null;
  west = Math.max(0, west - 1);
  north = Math.max(0, north - 1);
  east = Math.min(width - 1, east + 1);
  south = Math.min(height - 1, south + 1);
  return { column: west, row: north, columns: east - west + 1, rows: south - north + 1 };
}

function colourSteps(step: Uint8Array, width: number, height: number, theme: Theme): RasterImage {
  const ink = inkOf(theme);
  const shallow = channels(ink.paleWater);
  const deep = channels(ink.water);
  const steps = depthStepsM.length + 1;
  // Dark paper turns round: shallow water is dim and deep water bright, as ink and paper are.
  const fills = Array.from({ length: steps + 1 }, (_, i) => {
    const t = (i - 1) / (steps - 1);
    return [
      shallow[0] + (deep[0] - shallow[0]) * t,
      shallow[1] + (deep[1] - shallow[1]) * t,
      shallow[2] + (deep[2] - shallow[2]) * t,
      i === 0 ? 0 : 165 + 60 * t,
    ];
  });
  const data = new Uint8ClampedArray(width * height * 4);
  for (let y = 0, index = 0; y < height; y++) {
    for (let x = 0; x < width; x++, index++) {
      const here = step[index]!;
      if (here === 0) continue;
      const lowest = Math.min(
        x > 0 ? step[index - 1]! : 0,
        x + 1 < width ? step[index + 1]! : 0,
        y > 0 ? step[index - width]! : 0,
        y + 1 < height ? step[index + width]! : 0,
      );
      const fill = fills[here]!;
      const at = index * 4;
      if (lowest < here) {
        data[at] = deep[0];
        data[at + 1] = deep[1];
        data[at + 2] = deep[2];
        data[at + 3] = lowest === 0 ? 255 : 190;
      } else {
        data[at] = fill[0]!;
        data[at + 1] = fill[1]!;
        data[at + 2] = fill[2]!;
        data[at + 3] = fill[3]!;
      }
    }
  }
  return { width, height, data };
}
