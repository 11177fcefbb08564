import { contours as marchingSquares } from 'd3-contour';
import { expectOf } from '../../errors';
import type { XY } from '../../frame/frame';
import { footM, type UnitSystem } from '../../units/units';
import { blur } from './blur';
import type { Grid } from '../grid';

/** All contour lines of one elevation. */
export interface ContourLevel {
  /** Metres above the source's vertical datum. */
  readonly elevationM: number;
  /** Lines in the grid's local frame. A closed line repeats its first point at the end. */
  readonly lines: readonly (readonly XY[])[];
  /** Every fifth line, to be drawn heavier and labelled. */
  readonly index: boolean;
}

export interface ContourOptions {
  /** Height from one line to the next, metres. Lines lie at whole multiples of it. */
  readonly intervalM: number;
  /** Spread of the smoothing before lines are drawn, metres; 0 for none. Default {@link defaultSmoothingM}. */
  readonly smoothingM?: number;
}

/** Round intervals on offer, in the unit that the user has heights in: metres or feet. */
const INTERVALS: Readonly<Record<UnitSystem, readonly number[]>> = {
  metric: [0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 200],
  us: [0.2, 0.25, 0.5, 1, 2, 5, 10, 20, 25, 50, 100, 200, 500],
};
/** As many lines as a lot-sized map bears and still reads: common practice, no source. */
const MOST_LINES = 24;
/** Every fifth line is an index contour: common practice of topographic maps. */
const INDEX_EVERY = 5;
/** Shorter lines are specks. */
const SHORTEST_CELLS = 4;

/** The smallest round interval, metres, at which a relief takes no more than two dozen lines. */
export function chooseInterval(reliefM: number, units: UnitSystem = 'metric'): number {
  const unitM = units === 'us' ? footM : 1;
  const offered = INTERVALS[units];
  const interval = offered.find((each) => reliefM / (each * unitM) <= MOST_LINES);
  return (interval ?? offered[offered.length - 1]) * unitM;
}

/**
 * Spread of the smoothing before contouring: 1 m for cells up to 1 m, none for coarser. Lidar at half a metre
 * carries centimetres of noise, which makes lines on gentle lots fray; the lines drawn after smoothing are
 * for reading, and no computation uses them.
 */
export function defaultSmoothingM(cellM: number): number {
  return cellM <= 1.001 ? 1 : 0;
}

/** More lines than this cannot be told apart on any sheet. Own choice. */
const mostLevels = 1000;

/**
 * Contour lines of a grid, by marching squares with linear interpolation along cell-to-cell edges.
 *
 * Lines end at the grid's border and where there is no data; they never run along either. Specks shorter than
 * four cells are left out.
 *
 * @returns one entry for each level that has lines, from low to high.
 * @throws {InputError} `contour-interval` when it is not above 0, or so small that there are more than a thousand levels.
 * Cost: linear in cells times levels; one grid-sized array when smoothing.
 */
export function contours(grid: Grid, options: ContourOptions): ContourLevel[] {
  const { width, height, cellM, datumM } = grid;
  const { intervalM, smoothingM = defaultSmoothingM(cellM) } = options;
  expectInterval(intervalM > 0, intervalM);
  if (width < 2 || height < 2) return [];
  const z = smoothingM > 0 ? blur(grid.z, width, height, smoothingM / cellM) : grid.z;
  let lowest = Infinity;
  let highest = -Infinity;
  for (let i = 0; i < z.length; i++) {
    if (z[i] < lowest) lowest = z[i];
    if (z[i] > highest) highest = z[i];
  }
  if (lowest > highest) return [];
  // The library's own smoothing loses which square a piece of line belongs to, which tells where data end.
  const square = marchingSquares().size([width, height]).smooth(false);
  const levels: ContourLevel[] = [];
  const first = Math.ceil((lowest + datumM) / intervalM);
  const last = Math.floor((highest + datumM) / intervalM);
  expectInterval(last - first < mostLevels, intervalM);
  for (let step = first; step <= last; step++) {
    const level = step * intervalM - datumM;
    const rings = square.contour(z as unknown as number[], level).coordinates.flat();
    const lines = rings.flatMap((ring) => linesWithin(ring as Pair[], z, grid, level));
    if (lines.length === 0) continue;
    levels.push({
      elevationM: Number((step * intervalM).toFixed(6)),
      lines,
      index: step % INDEX_EVERY === 0,
    });
  }
  return levels;
}

type Pair = [number, number];

/**
 * Cuts a ring, whose corners are the middles of cell-to-cell edges, into the lines of which every piece lies
 * between four cells with data, and moves their points to where the level crosses the edge.
 */
function linesWithin(ring: readonly Pair[], z: Float32Array, grid: Grid, level: number): XY[][] {
  const pieces = ring.length - 1;
  const kept = Array.from({ length: pieces }, (_, i) => hasData(ring[i], ring[i + 1], z, grid));
  const lines: XY[][] = [];
  // Starts after a gap, so that a line over the ring's seam is not cut there.
  const gap = kept.indexOf(false);
  const start = gap === -1 ? 0 : gap + 1;
  let line: XY[] = [];
  for (let k = 0; k < pieces; k++) {
    const i = (start + k) % pieces;
    if (!kept[i]) {
      if (line.length > 0) lines.push(line);
      line = [];
      continue;
    }
    if (line.length === 0) line.push(crossing(ring[i], z, grid, level));
    line.push(crossing(ring[i + 1], z, grid, level));
  }
  if (line.length > 0) lines.push(line);
  return lines.filter((points) => points.length > SHORTEST_CELLS);
}

/** Whether the square of four cell centres in which a piece lies holds data throughout. */
function hasData(from: Pair, to: Pair, z: Float32Array, { width, height }: Grid): boolean {
  const column = Math.floor((from[0] + to[0]) / 2 - 0.5);
  const row = Math.floor((from[1] + to[1]) / 2 - 0.5);
  if (column < 0 || row < 0 || column + 1 >= width || row + 1 >= height) return false;
  const i = row * width + column;
  return !Number.isNaN(z[i] + z[i + 1] + z[i + width] + z[i + width + 1]);
}

/** Where the level crosses the edge of whose ends a point is the middle, in the local frame. */
function crossing([x, y]: Pair, z: Float32Array, grid: Grid, level: number): XY {
  const { width, cellM } = grid;
  // A whole x lies between two cells of a row, a whole y between two of a column.
  const alongRow = Number.isInteger(x);
  const column = Math.floor(x);
  const row = Math.floor(y);
  const after = row * width + column;
  const before = alongRow ? after - 1 : after - width;
  const share = (level - z[before]) / (z[after] - z[before]) - 0.5;
  return [
    grid.westM + (alongRow ? x + share : x) * cellM,
    grid.northM - (alongRow ? y : y + share) * cellM,
  ];
}

function expectInterval(condition: boolean, intervalM: number): void {
  expectOf(condition, {
    code: 'contour-interval',
    where: 'contours',
    problem: `an interval of ${intervalM} m draws no lines that could be read`,
    remedy: 'give one above 0 with fewer than a thousand lines over the relief',
  });
}
