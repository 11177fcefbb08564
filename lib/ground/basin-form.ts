import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import {
  distanceM,
  nearest,
  perimeterM,
  segmentCrossing,
  type LineShape,
  type Ring,
} from '../frame/shapes';
import { heightAt } from './height-at';
import { cellsAlong, cellsAround } from './rasterise';
import { innermostPlace, RimDistance } from './rim-distance';

/** A basin as it is to be built, in local metres. */
export interface BasinShape {
  readonly id: string;
  /** The rim: the inner top edge of the bowl. */
  readonly rim: Ring;
  /** Depth of water on the floor when it starts to overflow, metres. */
  readonly pondingDepthM: number;
  /** Run of the bowl's sides for one of rise. */
  readonly sideSlope: number;
  /** Where water is to leave, anywhere near the rim; the lowest ground along the rim when not given. */
  readonly overflow?: XY;
  /** Height of the rim over the sill of the notch; `freeboardM` when not given. */
  readonly freeboardM?: number;
  /** Width of the notch's level sill; `overflowWidthM` when not given. */
  readonly overflowWidthM?: number;
}

/** The heights of a basin on its ground, before anything is cut. Metres above the grid's datum. */
export interface BasinLevels {
  readonly rimM: number;
  /** The sill of the notch. */
  readonly overflowM: number;
  /** The lowest point that the bowl reaches: its level floor, or where its sides meet. */
  readonly floorM: number;
  /** The notch in the rim, local metres. */
  readonly overflowAt: XY;
  /** Where the bowl is deepest, local metres. */
  readonly deepestAt: XY;
  /** What was taken for these, after what was asked. */
  readonly pondingDepthM: number;
  readonly freeboardM: number;
  readonly overflowWidthM: number;
  readonly sideSlope: number;
  /** How far outside the rim the ground is shaped at most. */
  readonly reachM: number;
  /** What differs from what was asked, in the user's words. */
  readonly notes: readonly string[];
}

/** What building a basin does to the ground. Elevations are in metres above the grid's datum. */
export interface BasinForm extends BasinLevels {
  readonly id: string;
  readonly rim: Ring;
  /** Cells inside the rim. */
  readonly cells: Int32Array<ArrayBuffer>;
  /**
   * Ground taken away and ground added in the cells that were cut, to shape bowl, berm and bank, m3 in place; layers are not
   * part of it. Of fine cells (`finishedBasin`) they are what is told to people.
   */
  readonly cutM3: number;
  readonly fillM3: number;
}

/** Why a basin cannot be built as drawn, in one sentence. */
export interface NotDug {
  readonly notDug: string;
}

/** Height of the rim over the overflow. Common practice, no source; Western Washington's handbook asks 0.15 m. */
export const freeboardM = 0.05;
/** Width of the berm's level top: about 12 in (homeowner manual of the University of Wisconsin, from memory). */
export const bermTopM = 0.3;
/** Width of the overflow notch. Common practice, no source. */
export const overflowWidthM = 1;
/**
 * Steepest side that is cut, run for one of rise: about 63 degrees, which loose soil does not hold for long. Common
 * practice, no source.
 */
export const steepestSideSlope = 0.5;

/** Along a rim the ground is read this far apart or closer, metres. */
const readEveryM = 0.25;
/** Ground along the rim within this of the lowest counts as lowest too, so that the notch comes to its middle. */
const asLowM = 0.01;
/** A floor that misses its depth by less than this is as asked. */
const worthTellingM = 0.005;

/**
 * The heights that a basin takes on its ground.
 *
 * The rim is set at the mean of the ground along it, so that what is dug on the high side about makes the berm on the
 * low side. Where the rim is too narrow for its sides to reach the floor, the bowl ends where they meet, and a note
 * tells the depth reached.
 *
 * @param grid - the ground before.
 */
export function basinLevels(grid: Grid, basin: BasinShape): BasinLevels | NotDug {
  const { rim } = basin;
  const notes: string[] = [];
  if (crossesItself(rim)) {
    return { notDug: 'Not dug: its outline crosses itself; move the corners so that it does not.' };
  }
  const places = placesAlong(rim, Math.min(readEveryM, grid.cellM / 2));
  const along = Float64Array.from(places, (at) => heightAt(grid, at));
  let sum = 0;
  for (const height of along) sum += height;
  const rimM = sum / along.length;
  if (Number.isNaN(rimM)) {
    return {
      notDug: 'Not dug: its rim leaves the elevation data; move it to where there are data.',
    };
  }

  let { sideSlope } = basin;
  if (!(sideSlope >= steepestSideSlope)) {
    notes.push(
      `A side slope of ${sideSlope} : 1 would not stand in loose soil: ${steepestSideSlope} : 1 is taken.`,
    );
    sideSlope = steepestSideSlope;
  }
  const freeboard = Math.max(0, basin.freeboardM ?? freeboardM);
  const asked = Math.max(0, basin.pondingDepthM);
  const innermost = innermostPlace(rim);
  const deepestM = innermost.awayM / sideSlope;
  const overflowM = rimM - freeboard;
  const floorM = Math.max(overflowM - asked, rimM - deepestM);
  const pondingDepthM = overflowM - floorM;
  if (pondingDepthM < 0 || (pondingDepthM === 0 && asked > 0)) {
    return {
      notDug: `Not dug: sides of ${sideSlope} : 1 meet ${cm(deepestM)} below the rim, above the overflow, which a freeboard of ${cm(freeboard)} sets; make it wider, its sides steeper or its freeboard less.`,
    };
  }
  if (asked === 0) notes.push('It holds no water: its ponding depth is 0.');
  if (asked - pondingDepthM > worthTellingM) {
    notes.push(
      `Too narrow for ${cm(asked)} of ponding with sides of ${sideSlope} : 1: they meet at ${cm(pondingDepthM)} below the overflow, and there is no level floor.`,
    );
  }
  if (freeboard === 0) notes.push('It has no freeboard: water leaves over its whole rim at once.');

  const rimLine: LineShape = { type: 'line', points: [...rim, rim[0]] };
  let rimLengthM = 0;
  rim.forEach(([x, y], i) => {
    const [nextX, nextY] = rimLine.points[i + 1];
    rimLengthM += Math.hypot(nextX - x, nextY - y);
  });
  const askedWidthM = Math.max(0, basin.overflowWidthM ?? overflowWidthM);
  if (askedWidthM > rimLengthM) {
    notes.push(
      `A notch of ${askedWidthM.toFixed(1)} m is wider than the rim is long: ${rimLengthM.toFixed(1)} m is taken. Make it narrower.`,
    );
  }
  return {
    rimM,
    overflowM,
    floorM,
    overflowAt:
      basin.overflow === undefined
        ? lowestAlong(places, along)
        : nearest({ type: 'point', at: basin.overflow }, rimLine).to,
    deepestAt: innermost.at,
    pondingDepthM,
    freeboardM: freeboard,
    overflowWidthM: Math.min(askedWidthM, rimLengthM),
    sideSlope,
    reachM: reachOutside(places, along, rimM, sideSlope) + 2 * grid.cellM,
    notes,
  };
}

/** A rim lies between rows of cells where those beside it are half a cell away, give or take this, metres. */
const besideM = 0.003;

/**
 * Cuts a basin into the ground: a bowl with sloping sides and level floor, a level rim, a berm where the ground outside
 * is lower, a bank cut back where it is higher, and a notch where water leaves.
 *
 * On coarse cells those that the rim runs through stand at the rim's height, so that no water slips through, and the
 * notch is a cell and a half wide at least.
 *
 * @param grid - the ground before; not modified.
 * @param z - heights to change in place, of the same shape as `grid.z`.
 * @param levels - from `basinLevels`, where they were taken on another grid of the same ground.
 * Cost: cells of the bounding box times edges of the rim.
 */
export function cutBasin(
  grid: Grid,
  z: Float32Array,
  basin: BasinShape,
  levels: BasinLevels | NotDug = basinLevels(grid, basin),
): BasinForm | NotDug {
  if ('notDug' in levels) return levels;
  const { rimM, overflowM, floorM, sideSlope, overflowAt, reachM } = levels;
  const { cellM, width, westM, northM } = grid;
  const { rim } = basin;
  const isCoarse = cellM > bermTopM / 4;
  const onRim = new Set(isCoarse ? cellsAlong(grid, [...rim, rim[0]], { bothSides: true }) : []);
  const sillHalfM = Math.max(levels.overflowWidthM / 2, isCoarse ? 0.75 * cellM : 0);
  const hasNotch = levels.freeboardM > 0;
  const distance = new RimDistance(rim);
  const inside: number[] = [];
  const changed: number[] = [];
  const heights: number[] = [];
  let cut = 0;
  let fill = 0;
  for (const cell of cellsAround(grid, rim, reachM)) {
    const before = z[cell];
    if (Number.isNaN(before)) continue;
    const row = Math.floor(cell / width);
    distance.look(westM + (cell - row * width + 0.5) * cellM, northM - (row + 0.5) * cellM);
    const { awayM, isInside } = distance;
    if (isInside) inside.push(cell);
    let after: number;
    // Where the rim runs between two rows of cells the outer one stands for it.
    const isBeside = Math.abs(awayM - cellM / 2) <= besideM;
    if (onRim.has(cell) && !isBeside) {
      after = rimM;
    } else if (isInside) {
      after = Math.max(floorM, rimM - awayM / sideSlope);
    } else {
      if (awayM > reachM) continue;
      const bermM = rimM - Math.max(0, awayM - bermTopM) / sideSlope;
      after = Math.min(Math.max(before, bermM), rimM + awayM / sideSlope);
      if (onRim.has(cell)) after = Math.max(after, rimM);
    }
    if (hasNotch) {
      const fromSillM =
        Math.hypot(distance.nearX - overflowAt[0], distance.nearY - overflowAt[1]) - sillHalfM;
      after = Math.min(after, Math.max(floorM, overflowM + Math.max(0, fromSillM) / sideSlope));
    }
    cut += Math.max(0, before - after);
    fill += Math.max(0, after - before);
    changed.push(cell);
    heights.push(after);
  }
  if (inside.length === 0) {
    return { notDug: 'Not dug: it is smaller than a cell of the elevation data; draw it larger.' };
  }
  changed.forEach((cell, i) => {
    z[cell] = heights[i];
  });
  return {
    ...levels,
    id: basin.id,
    rim,
    cells: Int32Array.from(inside),
    cutM3: cut * cellM * cellM,
    fillM3: fill * cellM * cellM,
  };
}

/** Whether two edges of a ring that are no neighbours share a place. Cost: square of the edges. */
function crossesItself(rim: Ring): boolean {
  const ring = rim.filter((at, i) => distanceM(at, rim[(i + 1) % rim.length]) > 0);
  const count = ring.length;
  for (let i = 0; i < count; i++) {
    const [a, b] = [ring[i], ring[(i + 1) % count]];
    for (let j = i + 2; j < count; j++) {
      if (i === 0 && j === count - 1) continue;
      const [c, d] = [ring[j], ring[(j + 1) % count]];
      const apart =
        Math.max(c[0], d[0]) < Math.min(a[0], b[0]) ||
        Math.min(c[0], d[0]) > Math.max(a[0], b[0]) ||
        Math.max(c[1], d[1]) < Math.min(a[1], b[1]) ||
        Math.min(c[1], d[1]) > Math.max(a[1], b[1]);
      if (!apart && segmentCrossing(a, b, c, d) !== undefined) return true;
    }
  }
  return false;
}

/** Places along a closed ring, equally spaced, no farther apart than asked. */
function placesAlong(ring: Ring, everyM: number): XY[] {
  const count = Math.max(8, Math.ceil(perimeterM(ring) / everyM));
  const stepM = perimeterM(ring) / count;
  const places: XY[] = [];
  let toNextM = 0;
  for (let i = 0; i < ring.length && places.length < count; i++) {
    const [from, to] = [ring[i], ring[(i + 1) % ring.length]];
    const lengthM = distanceM(from, to);
    while (toNextM < lengthM && places.length < count) {
      const t = toNextM / lengthM;
      places.push([from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]);
      toNextM += stepM;
    }
    toNextM -= lengthM;
  }
  return places;
}

/** The middle of the lowest stretch along the rim. */
function lowestAlong(places: readonly XY[], heights: Float64Array): XY {
  const count = places.length;
  let lowest = 0;
  for (let i = 1; i < count; i++) if (heights[i] < heights[lowest]) lowest = i;
  const isLow = (i: number): boolean =>
    heights[((i % count) + count) % count] <= heights[lowest] + asLowM;
  let before = 0;
  let after = 0;
  while (before < count && isLow(lowest - before - 1)) before++;
  if (before === count) return places[lowest];
  while (isLow(lowest + after + 1)) after++;
  return places[(lowest + Math.round((after - before) / 2) + count) % count];
}

/**
 * How far outside the rim berm and bank can run before they meet the ground, metres. On ground that falls with the berm
 * they run farther than on level ground; on ground as steep as the sides they would never meet it.
 */
function reachOutside(
  places: readonly XY[],
  heights: Float64Array,
  rimM: number,
  sideSlope: number,
): number {
  let lowest = 0;
  let highest = 0;
  for (let i = 1; i < heights.length; i++) {
    if (heights[i] < heights[lowest]) lowest = i;
    if (heights[i] > heights[highest]) highest = i;
  }
  const apart = distanceM(places[lowest], places[highest]);
  const fall = apart > 0 ? (heights[highest] - heights[lowest]) / apart : 0;
  const stepM = Math.max(rimM - heights[lowest], heights[highest] - rimM, 0);
  return bermTopM + (1.5 * stepM * sideSlope) / (1 - Math.min(0.75, fall * sideSlope));
}

/** A length in a note, whole centimetres. */
function cm(metres: number): string {
  return `${Math.round(metres * 100)} cm`;
}
