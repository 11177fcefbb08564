import { cellAt, inCells, type Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { distanceM, signedAreaM2, type Ring } from '../../frame/shapes';
import type { Source } from '../../source';
import { offWallCells, roundingPieces } from './water-at-building';

/** How far from a wall the ground is to fall away, and by how much: 6 in within the first 10 ft (5 %). */
export const wallReachM = 3.048;
/** How much the ground has to fall away, rise over run, and who asks for it. */
export const codeFall = {
  ground: 0.05,
  paving: 0.02,
  published: '6 in within the first 10 ft (5 %); paving within 10 ft 2 % away',
  source: {
    title: 'International Residential Code, 2006, section R401.3',
    publisher: 'International Code Council, as quoted in a forum of home inspectors',
    year: 2006,
    mark: 'seen in a secondary copy',
  },
} as const satisfies { source: Source } & Record<string, unknown>;

/** How the ground falls away from one building's walls. */
export interface WallFall {
  /** Length of wall that could be judged: with open ground and data before it. */
  readonly judged_m: number;
  /** Of it, where the ground falls away by less than the code figure. */
  readonly short_m: number;
  /** Of it, where the ground falls towards the wall. */
  readonly towards_m: number;
  /** Least fall away found, rise over run; negative towards the wall; null when nothing could be judged. */
  readonly least_slope: number | null;
  /** Place on the wall of the least fall. */
  readonly at: XY | null;
}

/**
 * Measures how the ground falls away from a building over the first 3.05 m, every half metre along its walls.
 *
 * Heights are interpolated between cell centres, just outside the wall and at the far end of a line square to it;
 * the far end is pulled in to half the distance where something stands in the way, and the wall is left out where
 * that does not help.
 *
 * @param elevation - the ground as graded, without buildings, walls and kerbs.
 * @param blocked - 1 for cells under buildings.
 * @param isPaved - whether paving covers a cell; there the lesser fall is asked.
 * Limits: public elevation is interpolated under and close to buildings; a level and a tape at the wall tell more.
 */
export function wallFall(
  elevation: Grid,
  blocked: Uint8Array,
  isPaved: (cell: number) => boolean,
  outline: Ring,
): WallFall {
  const turn = signedAreaM2(outline) > 0 ? 1 : -1;
  let judged = 0;
  let short = 0;
  let towards = 0;
  let least: number | null = null;
  let at: XY | null = null;
  for (let i = 0; i < outline.length; i++) {
    const from = outline[i];
    const to = outline[(i + 1) % outline.length];
    const length = distanceM(from, to);
    if (length === 0) continue;
    const out: XY = [(turn * (to[1] - from[1])) / length, (turn * (from[0] - to[0])) / length];
    const pieces = Math.ceil(length / 0.5 - roundingPieces);
    for (let piece = 0; piece < pieces; piece++) {
      const t = (piece + 0.5) / pieces;
      const wall: XY = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
      const slope = fallFrom(elevation, blocked, wall, out);
      if (slope === null) continue;
      const beside = cellAt(
        elevation,
        wall[0] + out[0] * offWallCells * elevation.cellM,
        wall[1] + out[1] * offWallCells * elevation.cellM,
      );
      const asked = beside !== -1 && isPaved(beside) ? codeFall.paving : codeFall.ground;
      judged += length / pieces;
      if (slope < asked) short += length / pieces;
      if (slope < 0) towards += length / pieces;
      if (least === null || slope < least) {
        least = slope;
        at = wall;
      }
    }
  }
  return { judged_m: judged, short_m: short, towards_m: towards, least_slope: least, at };
}

/** Fall over run from just outside a wall outwards; null where the way is built on or without data. */
function fallFrom(elevation: Grid, blocked: Uint8Array, wall: XY, out: XY): number | null {
  const nearM = elevation.cellM;
  const near = heightAt(elevation, blocked, [wall[0] + out[0] * nearM, wall[1] + out[1] * nearM]);
  if (near === null) return null;
  for (const farM of [wallReachM, wallReachM / 2]) {
    if (farM < nearM + elevation.cellM) continue;
    const far = heightAt(elevation, blocked, [wall[0] + out[0] * farM, wall[1] + out[1] * farM]);
    if (far !== null) return (near - far) / (farM - nearM);
  }
  return null;
}

/** Height between the centres of those of the four cells around that are not built on; null where none is, or off the data. */
function heightAt(grid: Grid, blocked: Uint8Array, [x, y]: XY): number | null {
  const [column, row] = inCells(grid, x, y).map((cells) => cells - 0.5);
  const c = Math.floor(column);
  const r = Math.floor(row);
  if (c < 0 || r < 0 || c + 1 >= grid.width || r + 1 >= grid.height) return null;
  const northWest = r * grid.width + c;
  const east = column - c;
  const south = row - r;
  let sum = 0;
  let weight = 0;
  for (const [cell, share] of [
    [northWest, (1 - east) * (1 - south)],
    [northWest + 1, east * (1 - south)],
    [northWest + grid.width, (1 - east) * south],
    [northWest + grid.width + 1, east * south],
  ]) {
    if (share === 0 || blocked[cell] === 1 || Number.isNaN(grid.z[cell])) continue;
    sum += share * grid.z[cell];
    weight += share;
  }
  return weight === 0 ? null : sum / weight;
}
