import type { XY } from '../frame/frame';

/**
 * Directions in the local frame: degrees clockwise from the frame's north. They are bearings where the frame's north is
 * true north; elsewhere `bearingVector` of the frame tells by how much they differ. A turn is the change of direction
 * from one side to the next, degrees, positive to the right, from -180 (without) to 180.
 */

/** The unit vector of a direction. */
export function vectorOf(directionDeg: number): XY {
  const turn = (directionDeg % 360) / 90;
  // The four points of the compass are exact: a typed 90 leads to no other northing by the last digit.
  if (Number.isInteger(turn)) return compassPoints[(turn + 4) % 4];
  return [Math.sin((turn * Math.PI) / 2), Math.cos((turn * Math.PI) / 2)];
}

const compassPoints: readonly XY[] = [
  [0, 1],
  [1, 0],
  [0, -1],
  [-1, 0],
];

/** The direction from one place to another, 0 to 360. */
export function directionOf(from: XY, to: XY): number {
  const deg = (Math.atan2(to[0] - from[0], to[1] - from[1]) * 180) / Math.PI;
  return deg < 0 ? deg + 360 : deg;
}

/** The turn at the middle of three places. */
export function turnAt(before: XY, at: XY, after: XY): number {
  const [ux, uy] = [at[0] - before[0], at[1] - before[1]];
  const [vx, vy] = [after[0] - at[0], after[1] - at[1]];
  return (Math.atan2(uy * vx - ux * vy, ux * vx + uy * vy) * 180) / Math.PI;
}

/** The place a length away in a direction. */
export function onwards(from: XY, directionDeg: number, lengthM: number): XY {
  const [east, north] = vectorOf(directionDeg);
  return [from[0] + lengthM * east, from[1] + lengthM * north];
}

/** The place a length away after a turn from the side `before`-`from`. */
export function onwardsAfterTurn(before: XY, from: XY, turnDeg: number, lengthM: number): XY {
  const sideM = Math.hypot(from[0] - before[0], from[1] - before[1]);
  if (sideM === 0) return onwards(from, turnDeg, lengthM);
  const [ux, uy] = [(from[0] - before[0]) / sideM, (from[1] - before[1]) / sideM];
  const [sin, cos] = vectorOf(turnDeg);
  return [from[0] + lengthM * (ux * cos + uy * sin), from[1] + lengthM * (uy * cos - ux * sin)];
}

/** The point of the line through two places that is nearest to a place, and how far along from the first it lies. */
export function footOn(a: XY, b: XY, place: XY): { readonly at: XY; readonly alongM: number } {
  const lengthM = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (lengthM === 0) return { at: a, alongM: 0 };
  const [ux, uy] = [(b[0] - a[0]) / lengthM, (b[1] - a[1]) / lengthM];
  const alongM = (place[0] - a[0]) * ux + (place[1] - a[1]) * uy;
  return { at: [a[0] + alongM * ux, a[1] + alongM * uy], alongM };
}

/** Where two endless lines meet, each through two places; null where they are parallel within a millionth. */
export function meetingOf(a: XY, b: XY, c: XY, d: XY): XY | null {
  const [rx, ry] = [b[0] - a[0], b[1] - a[1]];
  const [sx, sy] = [d[0] - c[0], d[1] - c[1]];
  const cross = rx * sy - ry * sx;
  if (Math.abs(cross) <= 1e-6 * Math.hypot(rx, ry) * Math.hypot(sx, sy)) return null;
  const t = ((c[0] - a[0]) * sy - (c[1] - a[1]) * sx) / cross;
  return [a[0] + t * rx, a[1] + t * ry];
}
