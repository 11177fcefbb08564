import type { XY } from '../frame/frame';
import { footOn, vectorOf } from './turns';

/** What makes another place of each place of a shape. */
export type Motion = (at: XY) => XY;

/** Moves by so much east and north. */
export function movedBy(eastM: number, northM: number): Motion {
  return ([x, y]) => [x + eastM, y + northM];
}

/** Turns about a place, degrees clockwise. */
export function turnedAbout([cx, cy]: XY, clockwiseDeg: number): Motion {
  const [sin, cos] = vectorOf(clockwiseDeg);
  return ([x, y]) => [cx + (x - cx) * cos + (y - cy) * sin, cy + (y - cy) * cos - (x - cx) * sin];
}

/** Mirrors in the line through two places. */
export function mirroredIn(a: XY, b: XY): Motion {
  return (place) => {
    const { at } = footOn(a, b, place);
    return [2 * at[0] - place[0], 2 * at[1] - place[1]];
  };
}
