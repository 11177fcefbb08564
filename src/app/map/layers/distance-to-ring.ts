import type { XY } from '../../../../lib/frame/frame';
import { distanceM, nearestOnSegment } from '../../../../lib/frame/shapes';

/** Shortest distance from a point to the line of a closed ring, in the unit of both. */
export function distanceToRing(ring: readonly XY[], point: XY): number {
  let nearest = Infinity;
  for (let i = 0; i + 1 < ring.length; i++) {
    nearest = Math.min(nearest, distanceM(point, nearestOnSegment(point, ring[i], ring[i + 1])));
  }
  return nearest;
}
