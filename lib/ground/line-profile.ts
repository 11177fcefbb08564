import { cellCentre, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { distanceM, nearestOnSegment } from '../frame/shapes';
import { heightAt } from './height-at';
import { cellsAlong, cellsAround } from './rasterise';

/** Stations along a line, half a cell apart or closer, and the ground beside it. */
export interface LineProfile {
  readonly points: readonly XY[];
  readonly stations: readonly XY[];
  /** Distance of each station from the first point, metres. */
  readonly alongM: Float64Array;
  /** Ground at each station: the mean of the two shoulders; `NaN` where there is no data. */
  readonly groundM: Float64Array;
  /** For each segment of the line the index of its first station. */
  readonly firstOf: readonly number[];
}

/**
 * Ground along a line, read at its shoulders rather than on it: a swale or berm that the elevation shows already is then
 * not dug or heaped up a second time.
 *
 * @param shoulderM - distance of the shoulders from the line.
 */
export function profileAlong(grid: Grid, points: readonly XY[], shoulderM: number): LineProfile {
  const stations: XY[] = [];
  const ground: number[] = [];
  const along: number[] = [];
  const firstOf: number[] = [];
  let before = 0;
  for (let i = 1; i < points.length; i++) {
    const [from, to] = [points[i - 1], points[i]];
    const length = distanceM(from, to);
    if (length === 0) {
      firstOf.push(Math.max(0, stations.length - 1));
      continue;
    }
    const pieces = Math.max(1, Math.ceil(length / (grid.cellM / 2)));
    const normal: XY = [(from[1] - to[1]) / length, (to[0] - from[0]) / length];
    firstOf.push(stations.length);
    for (let piece = 0; piece <= pieces; piece++) {
      const t = piece / pieces;
      const at: XY = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
      stations.push(at);
      along.push(before + t * length);
      ground.push(shouldersAt(grid, at, normal, shoulderM));
    }
    before += length;
  }
  return {
    points,
    stations,
    alongM: Float64Array.from(along),
    groundM: Float64Array.from(ground),
    firstOf,
  };
}

function shouldersAt(grid: Grid, [x, y]: XY, [nx, ny]: XY, offM: number): number {
  const left = heightAt(grid, [x + nx * offM, y + ny * offM]);
  const right = heightAt(grid, [x - nx * offM, y - ny * offM]);
  if (Number.isNaN(left) && Number.isNaN(right)) return heightAt(grid, [x, y]);
  if (Number.isNaN(left)) return right;
  return Number.isNaN(right) ? left : (left + right) / 2;
}

/**
 * Cells within reach of a profile, each with its distance from the line and the level there, by interpolation
 * between stations. Cells that the line runs through stand at distance 0, so that a channel or a crest narrower than
 * a cell has no gap.
 *
 * @param levelM - one for each station; cells whose level is `NaN` are left out.
 * Cost: cells of the bounding box times segments.
 */
export function* cellsBeside(
  grid: Grid,
  profile: LineProfile,
  levelM: Float64Array,
  reachM: number,
): Generator<{ cell: number; awayM: number; levelM: number }> {
  const { points } = profile;
  const under = new Set(cellsAlong(grid, points));
  for (const cell of cellsAround(grid, points, reachM)) {
    const centre = cellCentre(grid, cell);
    let awayM = Infinity;
    let level = NaN;
    for (let i = 1; i < points.length; i++) {
      const foot = nearestOnSegment(centre, points[i - 1], points[i]);
      const away = distanceM(centre, foot);
      if (away >= awayM) continue;
      awayM = away;
      level = levelOn(profile, levelM, i - 1, foot);
    }
    if (under.has(cell)) awayM = 0;
    if (awayM <= reachM && !Number.isNaN(level)) yield { cell, awayM, levelM: level };
  }
}

function levelOn(profile: LineProfile, levelM: Float64Array, segment: number, at: XY): number {
  const { points, firstOf, stations } = profile;
  const first = firstOf[segment];
  const last = (firstOf[segment + 1] ?? stations.length) - 1;
  const length = distanceM(points[segment], points[segment + 1]);
  if (length === 0 || last <= first) return levelM[first];
  const place = first + (distanceM(points[segment], at) / length) * (last - first);
  const from = Math.min(Math.floor(place), last - 1);
  return levelM[from] + (place - from) * (levelM[from + 1] - levelM[from]);
}
