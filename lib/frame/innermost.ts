import { distanceToRing } from './distance-to-ring';
import type { XY } from './frame';
import { boundsOf, contains } from './shapes';

/** The lattice of places that are tried has so many steps each way. Our choice, no source. */
const steps = 16;

/**
 * A place well inside an outline: of a coarse lattice, the one farthest from the outline and its holes.
 *
 * @param rings - the outline, then its holes.
 * @param pull - how much of that distance a place gives up for each unit that it lies nearer to the middle of the outline's box.
 */
export function innermost(rings: readonly (readonly XY[])[], pull = 0): XY {
  const { west, south, east, north } = boundsOf(rings[0]);
  const middle: XY = [(west + east) / 2, (south + north) / 2];
  let best = middle;
  let bestScore = -Infinity;
  for (let row = 1; row < steps; row++) {
    for (let column = 1; column < steps; column++) {
      const at: XY = [
        west + ((east - west) * column) / steps,
        south + ((north - south) * row) / steps,
      ];
      if (!contains(rings, at)) continue;
      const clear = Math.min(...rings.map((ring) => distanceToRing(ring, at)));
      const score = clear - pull * Math.hypot(at[0] - middle[0], at[1] - middle[1]);
      if (score <= bestScore) continue;
      bestScore = score;
      best = at;
    }
  }
  return best;
}
