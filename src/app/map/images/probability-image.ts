import type { CellWindow } from '../../../../lib/elevation/grid-corners';
import { channels, inkOf, type Theme } from '../../look/ink';
import type { RasterImage } from '../../worker/sheet-image';
import { mostPixels, windowAbove, type WaterImage } from './water-image';

/** A step of the image: from this probability on, hatched by lines this far apart, pixels; 0 is filled. */
interface Step {
  readonly from: number;
  readonly apartPx: number;
  readonly words: string;
}

/** Steps of probability, as the words for it have them: the likelier, the closer the hatch. Below the first nothing is drawn. */
export const probabilitySteps: readonly Step[] = [
  { from: 0.1, apartPx: 14, words: 'unlikely' },
  { from: 0.33, apartPx: 8, words: 'as likely as not' },
  { from: 0.66, apartPx: 4, words: 'likely' },
  { from: 0.9, apartPx: 0, words: 'very likely' },
];

/** Width of the hatch's lines, pixels. */
const linePx = 2;

/**
 * A probability by cell as an image: one hue, hatched the closer the likelier and filled from the last step on, with a
 * line where a step begins, so that it can be read without colour. `null` where nothing reaches the first step.
 *
 * @param probability - row-major from the north-west, `width * height` values from 0 to 1.
 * @param options.leans - which way the hatch runs up, so that two things may be told apart; to the right where left out.
 * @param options.scale - pixels for one cell side, a whole number; lowered where the image would exceed 0.8 megapixels.
 * Cost: linear in the pixels of the bounding box of what is drawn.
 */
export function probabilityImage(
  probability: Float32Array,
  width: number,
  height: number,
  options: { theme: Theme; scale?: number; leans?: 'left' | 'right' },
): WaterImage | null {
  const window = windowAbove(probability, width, height, probabilitySteps[0].from);
  if (window === null) return null;
  const { columns, rows } = window;
  const scale = Math.max(
    1,
    Math.min(options.scale ?? 6, Math.floor(Math.sqrt(mostPixels / (columns * rows)))),
  );
  const step = stepsOf(probability, width, window, scale);
  const { theme, leans = 'right' } = options;
  return { image: hatch(step, columns * scale, rows * scale, theme, leans), window };
}

/** For each pixel 0 or the number of the step reached, interpolated between cell centres. */
function stepsOf(
  probability: Float32Array,
  width: number,
  { column, row, columns, rows }: CellWindow,
  scale: number,
): Uint8Array {
  const imageWidth = columns * scale;
  const step = new Uint8Array(imageWidth * rows * scale);
  const between = new Float32Array(columns);
  for (let y = 0; y < rows * scale; y++) {
    const v = clamp((y + 0.5) / scale - 0.5, rows - 1);
    const top = Math.floor(v);
    const upper = (row + top) * width + column;
    const lower = (row + Math.min(rows - 1, top + 1)) * width + column;
    for (let i = 0; i < columns; i++) {
      const north = probability[upper + i];
      between[i] = north + (probability[lower + i] - north) * (v - top);
    }
    for (let x = 0, at = y * imageWidth; x < imageWidth; x++, at++) {
      const u = clamp((x + 0.5) / scale - 0.5, columns - 1);
      const left = Math.floor(u);
      const right = Math.min(columns - 1, left + 1);
      step[at] = stepAt(between[left] + (between[right] - between[left]) * (u - left));
    }
  }
  return step;
}

function clamp(value: number, most: number): number {
  return Math.min(most, Math.max(0, value));
}

function stepAt(probability: number): number {
  let step = 0;
  while (step < probabilitySteps.length && probability >= probabilitySteps[step].from) step++;
  return step;
}

function hatch(
  step: Uint8Array,
  width: number,
  height: number,
  theme: Theme,
  leans: 'left' | 'right',
): RasterImage {
  const [red, green, blue] = channels(inkOf(theme).water);
  const data = new Uint8ClampedArray(width * height * 4);
  for (let y = 0, index = 0; y < height; y++) {
    for (let x = 0; x < width; x++, index++) {
      const here = step[index];
      if (here === 0) continue;
      const begins =
        (x > 0 && step[index - 1] < here) ||
        (x + 1 < width && step[index + 1] < here) ||
        (y > 0 && step[index - width] < here) ||
        (y + 1 < height && step[index + width] < here);
      const { apartPx } = probabilitySteps[here - 1];
      const isFilled = apartPx === 0;
      // Measured from the corner that keeps it positive.
      const across = leans === 'right' ? x + y : x + height - y;
      const isLine = !isFilled && across % apartPx < linePx;
      const at = index * 4;
      data[at] = red;
      data[at + 1] = green;
      data[at + 2] = blue;
      // Between the lines a breath of the same ink, so that the steps show from afar as well.
      data[at + 3] = begins ? 255 : isFilled ? 200 : isLine ? 170 : 12 * here;
    }
  }
  return { width, height, data };
}
