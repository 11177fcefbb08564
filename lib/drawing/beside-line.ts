import type { XY } from '../frame/frame';
import { meetingOf } from './turns';

/** A line beside another, so far to the right of its way (to the left if negative), its corners sharp as far as they can be. */
export function besideLine(points: readonly XY[], distanceM: number): XY[] {
  const sides = points.slice(1).map((to, i): [XY, XY] => {
    const from = points[i];
    const lengthM = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const out: XY = [
      ((to[1] - from[1]) / lengthM) * distanceM,
      (-(to[0] - from[0]) / lengthM) * distanceM,
    ];
    return [
      [from[0] + out[0], from[1] + out[1]],
      [to[0] + out[0], to[1] + out[1]],
    ];
  });
  const corners = sides.slice(1).map((side, i) => {
    // Sides that run on straight have no crossing: their ends meet as they are.
    return meetingOf(...sides[i], ...side) ?? side[0];
  });
  return [sides[0][0], ...corners, sides[sides.length - 1][1]];
}
