import { shade } from '../../elevation/picture/shade';
import type { Grid } from '../../elevation/grid';
import type { Board } from '../drawing/board';
import { greyPng } from '../write/grey-png';
import type { PlanView } from './plan-view';

/** Opacity of the deepest shade: letters and fine lines stay readable on it, in one ink too. */
const strength = 0.3;
/** Dots of the picture on a millimetre of paper. */
const dotsPerMm = 2;

/**
 * Lays the relief of the ground under a view that is not turned: a picture in tones of grey of the part that the field shows.
 */
export function drawRelief(board: Board, view: PlanView, grid: Grid): void {
  const { ground } = view;
  const west = Math.max(ground.west, grid.westM);
  const east = Math.min(ground.east, grid.westM + grid.width * grid.cellM);
  const north = Math.min(ground.north, grid.northM);
  const south = Math.max(ground.south, grid.northM - grid.height * grid.cellM);
  if (west >= east || south >= north) return;
  const [[x, y], [right, bottom]] = view.run([
    [west, north],
    [east, south],
  ]);
  const width = Math.max(1, Math.round((right - x) * dotsPerMm));
  const height = Math.max(1, Math.round((bottom - y) * dotsPerMm));
  const shaded = tonesOf(grid);
  const tones = new Uint8Array(width * height);
  for (let row = 0; row < height; row++) {
    const v = (grid.northM - north + ((row + 0.5) / height) * (north - south)) / grid.cellM;
    for (let column = 0; column < width; column++) {
      const u = (west - grid.westM + ((column + 0.5) / width) * (east - west)) / grid.cellM;
      tones[row * width + column] = toneAt(shaded, grid, u - 0.5, v - 0.5);
    }
  }
  board.marks.push({
    kind: 'picture',
    rect: { x, y, width: right - x, height: bottom - y },
    png: greyPng(tones, width, height),
  });
}

/** Tone of each cell on white paper. */
function tonesOf(grid: Grid): Uint8Array {
  const wash = shade(grid, { strength });
  const tones = new Uint8Array(grid.width * grid.height);
  for (let i = 0; i < tones.length; i++) {
    const ink = 0.3 * wash[4 * i] + 0.59 * wash[4 * i + 1] + 0.11 * wash[4 * i + 2];
    const opacity = wash[4 * i + 3] / 255;
    tones[i] = Math.round(255 - opacity * (255 - ink));
  }
  return tones;
}

/** Between the four cells about a place. */
function toneAt(tones: Uint8Array, { width, height }: Grid, u: number, v: number): number {
  const [column, row] = [
    Math.max(0, Math.min(width - 1, Math.floor(u))),
    Math.max(0, Math.min(height - 1, Math.floor(v))),
  ];
  const [right, below] = [Math.min(width - 1, column + 1), Math.min(height - 1, row + 1)];
  const [du, dv] = [Math.max(0, Math.min(1, u - column)), Math.max(0, Math.min(1, v - row))];
  const upper = tones[row * width + column] * (1 - du) + tones[row * width + right] * du;
  const lower = tones[below * width + column] * (1 - du) + tones[below * width + right] * du;
  return Math.round(upper * (1 - dv) + lower * dv);
}
