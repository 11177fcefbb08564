import type { XY } from './frame';
import { distanceM, nearestOnSegment } from './shapes';

/** Shortest distance from a point to the line of a ring, in the unit of both; the ring may repeat its first corner or not. */
export function distanceToRing(ring: readonly XY[], point: XY): number {
  let nearest = Infinity;
  let from = ring[ring.length - 1];
  for (const to of ring) {
    nearest = Math.min(nearest, distanceM(point, nearestOnSegment(point, from, to)));
    from = to;
  }
  return nearest;
}
