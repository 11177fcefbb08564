import { cellAt, elevationAt, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { distanceM } from '../frame/shapes';
import { heightAt } from './height-at';

/** A place on a line and how far along it lies, metres. */
export interface Station {
  readonly at: XY;
  readonly alongM: number;
}

/** A line is sampled at no more stations than this: more would not be told apart in any drawing. Our choice. */
const mostStations = 2000;

/**
 * Stations along a line: every point of it, and between two of them as many as make equal pieces no longer than a step.
 *
 * @param stepM - above 0; made longer where the line would have more than 2,000 stations.
 */
export function stationsAlong(points: readonly XY[], stepM: number): Station[] {
  let wholeM = 0;
  for (let i = 1; i < points.length; i++) wholeM += distanceM(points[i - 1], points[i]);
  const step = Math.max(stepM, wholeM / mostStations);
  const stations: Station[] = points.length > 0 ? [{ at: points[0], alongM: 0 }] : [];
  let before = 0;
  for (let i = 1; i < points.length; i++) {
    const [from, to] = [points[i - 1], points[i]];
    const legM = distanceM(from, to);
    if (legM === 0) continue;
    const pieces = Math.max(1, Math.ceil(legM / step - 1e-9));
    for (let piece = 1; piece <= pieces; piece++) {
      const t = piece / pieces;
      stations.push({
        at: [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])],
        alongM: before + t * legM,
      });
    }
    before += legM;
  }
  return stations;
}

/**
 * Elevation at places, by interpolation between cells: metres above the datum of the source.
 *
 * @param shut - cells that are no ground, 1 for each, such as those under buildings: `NaN` there, and never mixed into what lies
 *   beside them.
 */
export function elevationsAt(
  grid: Grid,
  places: readonly XY[],
  shut?: Uint8Array<ArrayBuffer>,
): Float64Array<ArrayBuffer> {
  const open =
    shut === undefined
      ? grid
      : { ...grid, z: grid.z.map((z, cell) => (shut[cell] === 1 ? NaN : z)) };
  return Float64Array.from(places, (at) => grid.datumM + heightAt(open, at));
}

/** The cells in which places lie, -1 outside the grid. */
export function cellsOf(grid: Grid, places: readonly XY[]): Int32Array<ArrayBuffer> {
  return Int32Array.from(places, ([x, y]) => cellAt(grid, x, y));
}

/**
 * Level of the water that stands at cells, metres above the datum of the source; `NaN` where none does.
 *
 * @param groundM - elevation of the ground in each of the cells. @param depthM - standing water by cell of the grid.
 */
export function waterLevels(
  cells: ArrayLike<number>,
  groundM: ArrayLike<number>,
  depthM: ArrayLike<number>,
  leastM = 0.001,
): Float64Array<ArrayBuffer> {
  return Float64Array.from({ length: cells.length }, (_, i) => {
    const depth = cells[i] === -1 ? 0 : depthM[cells[i]];
    return depth >= leastM ? groundM[i] + depth : NaN;
  });
}

/** How the ground falls from one place to another. */
export interface Fall {
  /** Positive where the second lies lower, metres. */
  readonly fallM: number;
  /** Over the length given, rise over run. */
  readonly slope: number;
}

/** The fall of the ground between the ends of a line; null where there is no data at one of them, or no length. */
export function fallBetween(grid: Grid, ends: readonly [XY, XY], lengthM: number): Fall | null {
  const [from, to] = ends.map((at) => heightAt(grid, at));
  const fallM = from - to;
  return Number.isNaN(fallM) || !(lengthM > 0) ? null : { fallM, slope: fallM / lengthM };
}

/** Elevation of each of some cells, metres above the datum of the source; `NaN` outside and without data. */
export function cellElevations(grid: Grid, cells: Int32Array): Float64Array<ArrayBuffer> {
  return Float64Array.from(cells, (cell) => (cell === -1 ? NaN : elevationAt(grid, cell)));
}
