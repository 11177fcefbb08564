import type { Ink } from '../../look/ink';
import type { RasterImage } from '../../worker/sheet-image';
import { hatchTile, strokeTile, type Stroke } from './pattern-tiles';

/** Slopes of the keep-clear hatching, run and rise, far apart at first; rules take them in order. */
const keepClearSlopes: readonly (readonly [number, number])[] = [
  [1, 1],
  [2, -1],
  [1, 0],
  [1, -2],
  [3, 1],
  [0, 1],
  [1, -1],
  [1, 3],
];

/** How many looks of keep-clear zone there are before they come round again. */
export const keepClearLooks = keepClearSlopes.length * 3;

/** Name of the pattern of the nth rule. */
export function keepClearPattern(order: number): string {
  return `keep-clear-${order % keepClearLooks}`;
}

/** Which of the three keep-clear inks the nth rule takes. */
export function keepClearInk(ink: Ink, order: number): string {
  return ink.keepClear[order % 3];
}

/** Strokes out of their ends, one after the other. */
function strokes(ends: readonly number[]): readonly Stroke[] {
  return Array.from({ length: ends.length / 4 }, (_, nth): Stroke => {
    const [x1, y1, x2, y2] = ends.slice(4 * nth);
    return [x1, y1, x2, y2];
  });
}

/** Points out of their places, one after the other. */
function dots(places: readonly number[]): readonly Stroke[] {
  return Array.from({ length: places.length / 2 }, (_, nth): Stroke => {
    const [x, y] = places.slice(2 * nth);
    return [x, y, x, y];
  });
}

/** Three tufts, none like another, so that the tile is not seen as one. */
const grass = strokes([
  11, 17, 9.5, 12.5, 12, 17, 12, 11, 13, 17, 14.5, 12.5, 41, 33, 40, 28, 42, 33, 43.5, 28.5, 20, 51,
  18.5, 47, 21, 51, 21.4, 45.5, 22, 51, 24, 47.5,
]);
const tallGrass = strokes([
  6, 14, 4, 5, 7, 14, 7, 3, 8, 14, 10, 5, 19, 26, 17, 17, 20, 26, 20, 15, 21, 26, 23, 17,
]);
const stones = dots([3, 4, 9, 2, 14, 7, 6, 11, 2, 16, 12, 14, 17, 17, 17, 1]);
const leaves = strokes([5, 8, 8, 4, 8, 4, 11, 8, 18, 20, 21, 16, 21, 16, 24, 20]);
const stipple = dots([2, 2, 6, 6]);
const crosses = strokes([3, 5.5, 8, 5.5, 5.5, 3, 5.5, 8]);
const clods = strokes([4, 5, 7, 5, 15, 15, 18, 15]);
const reeds = strokes([
  4, 8, 14, 8, 9, 8, 9, 3, 7, 8, 5.5, 4.5, 11, 8, 12.5, 4.5, 17, 21, 27, 21, 22, 21, 22, 16,
]);

/** Every pattern of the sheet in one ink, by name. About 40 tiles of 16 to 70 pixels: 5 ms. */
export function sheetPatterns(ink: Ink): Map<string, RasterImage> {
  const patterns = new Map<string, RasterImage>([
    ['lawn', strokeTile(56, grass, { colour: ink.growth, opacity: 0.42, widthPx: 0.9 })],
    ['meadow', strokeTile(30, tallGrass, { colour: ink.growth, opacity: 0.55, widthPx: 0.9 })],
    ['bed', strokeTile(8, [[3, 3, 3, 3]], { colour: ink.growth, opacity: 0.6, widthPx: 1.5 })],
    ['woods', strokeTile(28, leaves, { colour: ink.growth, opacity: 0.7, widthPx: 1.1 })],
    ['gravel', strokeTile(20, stones, { colour: ink.secondInk, opacity: 0.55, widthPx: 1.5 })],
    ['paving', hatchTile(1, 1, 5, { colour: ink.secondInk, opacity: 0.32, widthPx: 0.7 })],
    ['deck', hatchTile(1, 0, 5, { colour: ink.secondInk, opacity: 0.55, widthPx: 0.8 })],
    ['bare', strokeTile(24, clods, { colour: ink.contour, opacity: 0.6, widthPx: 1 })],
    ['septic-field', hatchTile(1, -3, 8, { colour: ink.septic, opacity: 0.6, widthPx: 0.9 })],
    ['regrade', hatchTile(1, 3, 7, { colour: ink.contour, opacity: 0.5, widthPx: 0.8 })],
    ['easement', hatchTile(3, 1, 14, { colour: ink.secondInk, opacity: 0.45, widthPx: 0.7 })],
    ['wetland', strokeTile(26, reeds, { colour: ink.water, opacity: 0.65, widthPx: 0.9 })],
    ['hand-dig', strokeTile(11, crosses, { colour: ink.ink, opacity: 0.6, widthPx: 0.9 })],
    ['contributing', strokeTile(8, stipple, { colour: ink.water, opacity: 0.75, widthPx: 1.6 })],
  ]);
  for (let order = 0; order < keepClearLooks; order++) {
    const [run, rise] = keepClearSlopes[order % keepClearSlopes.length];
    const colour = keepClearInk(ink, order);
    patterns.set(
      keepClearPattern(order),
      hatchTile(run, rise, 8, { colour, opacity: 0.55, widthPx: 1 }),
    );
  }
  return patterns;
}
