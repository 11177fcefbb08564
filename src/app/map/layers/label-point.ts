import type { XY } from '../../../../lib/frame/frame';
import { boundsOf, contains } from '../../../../lib/frame/shapes';
import { distanceToRing } from './distance-to-ring';

/**
 * A place for a label well inside a ring and outside its holes: of a coarse grid of points, the one farthest
 * from their lines, preferring a little the middle of the ring's box.
 */
export function labelPoint(ring: readonly XY[], holes: readonly (readonly XY[])[] = []): XY {
  const { west, south, east, north } = boundsOf(ring);
  const middle: XY = [(west + east) / 2, (south + north) / 2];
  let best = middle;
  let bestScore = -Infinity;
  const parts = 14;
  for (let row = 1; row < parts; row++) {
    for (let column = 1; column < parts; column++) {
      const point: XY = [
        west + ((east - west) * column) / parts,
        south + ((north - south) * row) / parts,
      ];
      if (!contains([ring, ...holes], point)) continue;
      const clear = Math.min(...[ring, ...holes].map((line) => distanceToRing(line, point)));
      const score = clear - 0.1 * Math.hypot(point[0] - middle[0], point[1] - middle[1]);
      if (score > bestScore) {
        bestScore = score;
        best = point;
      }
    }
  }
  return best;
}
