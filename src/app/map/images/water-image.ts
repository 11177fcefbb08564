import type { CellWindow } from '../../../../lib/elevation/grid-corners';
import { channels, inkOf, type Theme } from '../../look/ink';
import type { RasterImage } from '../../worker/sheet-image';

/** Depths at which the colour of standing water changes and a depth line is drawn, metres. */
export const depthStepsM: readonly number[] = [0.02, 0.05, 0.1, 0.2, 0.4, 0.8];

/** Images do not grow beyond this, however fine the wanted scale. */
export const mostPixels = 800_000;

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
 * Depth is interpolated between cell centres, so that the lines are smooth.
 *
 * @param depthM - row-major from the north-west, `width * height` values, metres; `NaN` is no data
 * @param options.sure - cells in which water is to be reckoned with, 1 for each; elsewhere it is drawn faintly
 * @param options.scale - pixels for one cell side, a whole number; lowered where the image would exceed 0.8 megapixels
 * Cost: linear in the pixels of the wet cells' bounding box; at most 0.8 megapixels, about 30 ms.
 */
export function waterImage(
  depthM: Float32Array,
  width: number,
  height: number,
  options: { theme: Theme; scale?: number; sure?: Uint8Array | null },
): WaterImage | null {
  const window = windowAbove(depthM, width, height, filmM);
  if (window === null) return null;
  const { columns, rows } = window;
  const scale = Math.max(
    1,
    Math.min(options.scale ?? 6, Math.floor(Math.sqrt(mostPixels / (columns * rows)))),
  );
  const imageWidth = columns * scale;
  const imageHeight = rows * scale;
  const step = new Uint8Array(imageWidth * imageHeight);

  const padded = padWindow(depthM, width, height, window);
  const stride = columns + 2;
  const between = new Float32Array(stride);
  for (let y = 0; y < imageHeight; y++) {
    // Rows and columns of the padded block are one more than those of the window.
    const v = (y + 0.5) / scale + 0.5;
    const top = Math.floor(v);
    const down = v - top;
    for (let i = 0, at = top * stride; i < stride; i++, at++) {
      between[i] = padded[at] + (padded[at + stride] - padded[at]) * down;
    }
    for (let x = 0, at = y * imageWidth; x < imageWidth; x++, at++) {
      const u = (x + 0.5) / scale + 0.5;
      const left = Math.floor(u);
      step[at] = stepOf(between[left] + (between[left + 1] - between[left]) * (u - left));
    }
  }
  const image = colourSteps(step, imageWidth, imageHeight, options.theme);
  const { sure = null } = options;
  if (sure !== null) fade(image, window, scale, (column, row) => sure[row * width + column] === 0);
  return { image, window };
}

/** What is left of the cover of water that may not be there. */
const faintShare = 0.3;

/** Draws the pixels of some cells faintly. */
function fade(
  { width, height, data }: RasterImage,
  { column, row }: CellWindow,
  scale: number,
  isFaint: (column: number, row: number) => boolean,
): void {
  for (let y = 0, at = 3; y < height; y++) {
    for (let x = 0; x < width; x++, at += 4) {
      if (data[at] === 0) continue;
      if (isFaint(column + Math.floor(x / scale), row + Math.floor(y / scale))) {
        data[at] *= faintShare;
      }
    }
  }
}

/**
 * The window's depths with one more cell on each side. A cell without water, without data or beyond the grid
 * gets the depth of the wet cells around it, negative: the shore then runs along the borders of cells, which
 * is all that is known, and not out to the middle of the dry ones.
 */
function padWindow(
  depthM: Float32Array,
  width: number,
  height: number,
  { column, row, columns, rows }: CellWindow,
): Float32Array {
  const stride = columns + 2;
  const padded = new Float32Array(stride * (rows + 2));
  const depthAt = (atColumn: number, atRow: number): number => {
    if (atColumn < 0 || atRow < 0 || atColumn >= width || atRow >= height) return 0;
    const depth = depthM[atRow * width + atColumn];
    return depth >= filmM ? depth : 0;
  };
  for (let y = 0, at = 0; y < rows + 2; y++) {
    for (let x = 0; x < stride; x++, at++) {
      const depth = depthAt(column + x - 1, row + y - 1);
      padded[at] = depth > 0 ? depth : -depthAround(depthAt, column + x - 1, row + y - 1);
    }
  }
  return padded;
}

/** Mean depth of the wet ones among a cell's eight neighbours, 0 if there are none. */
function depthAround(
  depthAt: (column: number, row: number) => number,
  column: number,
  row: number,
): number {
  let sum = 0;
  let wet = 0;
  for (let dy = -1; dy <= 1; dy++) {
    for (let dx = -1; dx <= 1; dx++) {
      const depth = depthAt(column + dx, row + dy);
      if (depth === 0) continue;
      sum += depth;
      wet++;
    }
  }
  return wet === 0 ? 0 : sum / wet;
}

/** 0 dry, 1 a film up to the first step, then one more for each step reached. */
function stepOf(depthM: number): number {
  if (depthM < filmM) return 0;
  let step = 1;
  while (step <= depthStepsM.length && depthM >= depthStepsM[step - 1]) step++;
  return step;
}

/** The bounding box of the cells with at least a value, one cell wider on each side where the grid allows; `null` if none has. */
export function windowAbove(
  values: Float32Array,
  width: number,
  height: number,
  least: number,
): CellWindow | null {
  let west = width;
  let east = -1;
  let north = height;
  let south = -1;
  for (let row = 0, index = 0; row < height; row++) {
    for (let column = 0; column < width; column++, index++) {
      if (!(values[index] >= least)) continue;
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
      const here = step[index];
      if (here === 0) continue;
      const lowest = Math.min(
        x > 0 ? step[index - 1] : 0,
        x + 1 < width ? step[index + 1] : 0,
        y > 0 ? step[index - width] : 0,
        y + 1 < height ? step[index + width] : 0,
      );
      const fill = fills[here];
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
