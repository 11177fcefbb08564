import type { XY } from '../frame/frame';
import { meetingOf } from './turns';

/** Which end of a side moves when another length is typed on it. */
export type MovingEnd = 'start' | 'end';

/**
 * The corners of an outline or line with another length of one side. The end that moves goes along the side. In an
 * outline it takes the next side along, parallel to itself, so that angles stay as they are, as far as the side after
 * that can take it up; else the corner moves alone. In a line all that lies beyond moves with it.
 *
 * @param corners - of an outline without the first one repeated; of a line in order.
 * @param side - the side from that corner to the next.
 */
export function withSideLength(
  corners: readonly XY[],
  side: number,
  lengthM: number,
  moves: MovingEnd,
  isClosed: boolean,
): XY[] {
  if (moves === 'start') {
    const last = corners.length - (isClosed ? 1 : 2);
    const turned = [...corners].reverse();
    // The same side, walked the other way.
    const mirrored = isClosed ? (2 * corners.length - 2 - side) % corners.length : last - side;
    return withSideLength(turned, mirrored, lengthM, 'end', isClosed).reverse();
  }
  const count = corners.length;
  const at = (i: number): XY => corners[(side + i) % count];
  const [from, to] = [at(0), at(1)];
  const nowM = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const by: XY = [
    ((to[0] - from[0]) / nowM) * (lengthM - nowM),
    ((to[1] - from[1]) / nowM) * (lengthM - nowM),
  ];
  const carried = (place: XY): XY => [place[0] + by[0], place[1] + by[1]];
  if (!isClosed) return corners.map((place, i) => (i > side ? carried(place) : place));
  const next = [...corners];
  next[(side + 1) % count] = carried(to);
  if (count > 3) {
    const meeting = meetingOf(carried(to), carried(at(2)), at(2), at(3));
    if (meeting !== null && isForward(meeting, at(2), at(3))) next[(side + 2) % count] = meeting;
  }
  return next;
}

/** Whether a corner that slides along its side has not passed the side's other end. */
function isForward(slid: XY, corner: XY, end: XY): boolean {
  const before = (end[0] - corner[0]) ** 2 + (end[1] - corner[1]) ** 2;
  const left =
    (end[0] - slid[0]) * (end[0] - corner[0]) + (end[1] - slid[1]) * (end[1] - corner[1]);
  return left > 1e-6 * before;
}
