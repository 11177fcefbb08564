import type { Frame, XY } from '../frame/frame';
import { contains, type Ring } from '../frame/shapes';
import { nearestAlong } from '../frame/taped';
import { featuresOf, type Plan } from '../plan/schema';

/** A wall is read beside it, not in it: so far from the outermost levels and from a wall the ground is led on, metres. Our choice, no source. */
export const ledOnM = 1;

/**
 * Whether a place lies between the outermost levels and a wall that they were read along: without such ground water would
 * run off between the two, where the wall holds it.
 *
 * @returns null where no building stands at the edge of the levels.
 */
export function besideWalls(
  plan: Plan,
  frame: Frame,
  hull: Ring,
): ((x: number, y: number) => boolean) | null {
  const edge = closed(hull);
  const walls = featuresOf(plan, 'building')
    .filter(({ properties: { state = 'existing' } }) => state !== 'gone')
    .map(({ geometry }) => geometry.coordinates[0].map((at) => frame.toLocal(at)))
    .filter(
      (ring) =>
        ring.some((corner) => !contains([hull], corner)) &&
        (ring.some((corner) => contains([hull], corner)) || reach(ring, edge) || reach(edge, ring)),
    );
  if (walls.length === 0) return null;
  return (x, y) =>
    nearestAlong(edge, [x, y]).awayM <= ledOnM &&
    walls.some(
      (ring) =>
        !contains([ring.slice(0, -1)], [x, y]) && nearestAlong(ring, [x, y]).awayM <= ledOnM,
    );
}

/** Whether a corner of one line lies near another. */
function reach(corners: readonly XY[], line: readonly XY[]): boolean {
  return corners.some((corner) => nearestAlong(line, corner).awayM <= ledOnM);
}

function closed(ring: Ring): XY[] {
  return [...ring, ring[0]];
}
