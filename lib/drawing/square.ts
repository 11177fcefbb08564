import type { XY } from '../frame/frame';
import { alongAndOut } from './by-tape';
import { footOn, turnAt } from './turns';

/** The corners of a rectangle on a side, `widthM` to the right of the way from its first end (to the left if negative). */
export function rectangleOn(from: XY, to: XY, widthM: number): readonly [XY, XY, XY, XY] {
  const lengthM = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return [from, to, alongAndOut(from, to, lengthM, widthM), alongAndOut(from, to, 0, widthM)];
}

/** How far a place lies to the right of the way from one place to another; negative to the left. */
export function outOf(from: XY, to: XY, place: XY): number {
  const lengthM = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (lengthM === 0) return 0;
  const cross = (to[1] - from[1]) * (place[0] - from[0]) - (to[0] - from[0]) * (place[1] - from[1]);
  return cross / lengthM;
}

/** The nearest place to a pointer that goes on from the side `before`-`from` straight, back or at a right angle. */
export function heldSquare(before: XY, from: XY, pointer: XY): XY {
  const { at: along } = footOn(before, from, pointer);
  const across: XY = [from[0] + pointer[0] - along[0], from[1] + pointer[1] - along[1]];
  const offAcross = Math.hypot(across[0] - pointer[0], across[1] - pointer[1]);
  const offAlong = Math.hypot(along[0] - pointer[0], along[1] - pointer[1]);
  return offAlong < offAcross ? along : across;
}

/** How an outline's last corners would have to lie for it to close square. */
export interface ClosedSquare {
  /** All corners, the first not repeated. */
  readonly corners: readonly XY[];
  /** Lengths of the sides that this adds or changes, in order. */
  readonly sidesM: readonly number[];
}

/** Sides shorter than this are none. */
const leastSideM = 0.01;

/**
 * An outline closed by right angles: where the last side runs as the first one does, it is lengthened or shortened to
 * end level with the first corner; else a corner is put in, square from the last side and level with the first corner.
 * Null with fewer than three corners, or where that gives no side.
 */
export function closedSquare(corners: readonly XY[]): ClosedSquare | null {
  if (corners.length < 3) return null;
  const [first, second] = corners;
  const [before, last] = corners.slice(-2);
  const turn = turnAt(
    [first[0] - second[0], first[1] - second[1]],
    [0, 0],
    [last[0] - before[0], last[1] - before[1]],
  );
  const { at: level, alongM } = footOn(before, last, first);
  const runsAlike = Math.abs(Math.cos((turn * Math.PI) / 180)) > Math.SQRT1_2;
  if (runsAlike) {
    if (corners.length < 4 || alongM < leastSideM) return null;
    return square([...corners.slice(0, -1), level], 2);
  }
  const put: XY = [last[0] + first[0] - level[0], last[1] + first[1] - level[1]];
  return square([...corners, put], 2);
}

function square(corners: readonly XY[], sides: number): ClosedSquare | null {
  const ends = [...corners, corners[0]].slice(-sides - 1);
  const sidesM = ends.slice(1).map(([x, y], i) => Math.hypot(x - ends[i][0], y - ends[i][1]));
  return sidesM.some((lengthM) => lengthM < leastSideM) ? null : { corners, sidesM };
}
