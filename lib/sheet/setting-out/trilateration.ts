import type { XY } from '../../frame/frame';
import { distanceM } from '../../frame/shapes';

/** Where two tapes cross too flat or too sharp, a small error of length is a large one of place: degrees. Common practice, no source. */
export const goodAngleDeg = { from: 30, to: 150 } as const;
/** How far a length taped with care over a lawn may be off, metres. Common practice, no source. */
export const usualTapeErrorM = 0.01;

/** Angle at a point between the ways to two others, degrees from 0 to 180. */
export function crossingDeg(at: XY, a: XY, b: XY): number {
  const [ax, ay] = [a[0] - at[0], a[1] - at[1]];
  const [bx, by] = [b[0] - at[0], b[1] - at[1]];
  return (Math.atan2(Math.abs(ax * by - ay * bx), ax * bx + ay * by) * 180) / Math.PI;
}

/** Whether two tapes cross at an angle that can be trusted. */
export function isGoodAngle(degrees: number): boolean {
  return degrees >= goodAngleDeg.from && degrees <= goodAngleDeg.to;
}

/**
 * How far a point taped from two others may be off, metres: the root of the sum of squares over all ways, for lengths of which
 * each has the error given, independent of the other. It is the error times the root of two over the sine of the crossing.
 */
export function pointErrorM(at: XY, a: XY, b: XY, tapeErrorM: number): number {
  const sine = Math.sin((crossingDeg(at, a, b) * Math.PI) / 180);
  return sine < 1e-9 ? Infinity : (tapeErrorM * Math.SQRT2) / sine;
}

/**
 * The place at two distances from two points, left or right of the way from the first to the second.
 *
 * @returns `null` where the tapes do not reach each other.
 */
export function trilaterate(
  a: XY,
  b: XY,
  fromAM: number,
  fromBM: number,
  side: 'left' | 'right',
): XY | null {
  const baseM = distanceM(a, b);
  if (baseM === 0) return null;
  const alongM = (fromAM ** 2 - fromBM ** 2 + baseM ** 2) / (2 * baseM);
  const squared = fromAM ** 2 - alongM ** 2;
  // Rounding of a point on the base line itself.
  if (squared < -1e-9 * baseM ** 2) return null;
  const outM = Math.sqrt(Math.max(0, squared)) * (side === 'left' ? 1 : -1);
  return fromBaseLine(a, b, alongM, outM);
}

/** Distance along a base line from its first point, and out from it: positive to the left. */
export function toBaseLine(
  a: XY,
  b: XY,
  at: XY,
): { readonly alongM: number; readonly outM: number } {
  const baseM = distanceM(a, b);
  const [ux, uy] = [(b[0] - a[0]) / baseM, (b[1] - a[1]) / baseM];
  const [dx, dy] = [at[0] - a[0], at[1] - a[1]];
  return { alongM: dx * ux + dy * uy, outM: dy * ux - dx * uy };
}

/** The place that `toBaseLine` tells of. */
export function fromBaseLine(a: XY, b: XY, alongM: number, outM: number): XY {
  const baseM = distanceM(a, b);
  const [ux, uy] = [(b[0] - a[0]) / baseM, (b[1] - a[1]) / baseM];
  return [a[0] + alongM * ux - outM * uy, a[1] + alongM * uy + outM * ux];
}
