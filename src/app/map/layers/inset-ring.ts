import type { XY } from '../../../../lib/frame/frame';
import { contains, signedAreaM2 } from '../../../../lib/frame/shapes';
import { distanceToRing } from '../../../../lib/frame/distance-to-ring';

/**
 * The line inside a ring at a given distance from it, as drawn for a bowl's depth lines; empty when no
 * point of the ring's inside is that far from it.
 *
 * Moves points along the ring inwards and drops those that come too near another part of the ring, so
 * narrow necks and sharp corners do not fold over. Exact along straight sides and smooth curves; a bowl
 * with two separate deep parts comes out as one line. For drawing, not for measuring.
 *
 * @param ring - closed, local metres, either direction, not self-intersecting
 * @returns closed ring in local metres
 */
export function insetRing(ring: readonly XY[], distanceM: number): XY[] {
  const inward = signedAreaM2(ring) > 0 ? 1 : -1;
  const inset: XY[] = [];
  for (const [point, direction] of alongRing(ring, distanceM / 3)) {
    const moved: XY = [
      point[0] - direction[1] * inward * distanceM,
      point[1] + direction[0] * inward * distanceM,
    ];
    if (contains([ring], moved) && distanceToRing(ring, moved) > distanceM * 0.985) {
      inset.push(moved);
    }
  }
  if (inset.length < 3) return [];
  inset.push(inset[0]);
  return inset;
}

/** Points along a ring, each side cut into equal parts of at most `stepM`, with the side's direction. */
function alongRing(ring: readonly XY[], stepM: number): [XY, XY][] {
  const points: [XY, XY][] = [];
  for (let i = 0; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[i + 1];
    const length = Math.hypot(bx - ax, by - ay);
    if (length === 0) continue;
    const parts = Math.min(200, Math.max(1, Math.ceil(length / Math.max(stepM, 0.02))));
    const direction: XY = [(bx - ax) / length, (by - ay) / length];
    for (let part = 0; part < parts; part++) {
      const t = (part + 0.5) / parts;
      points.push([[ax + (bx - ax) * t, ay + (by - ay) * t], direction]);
    }
  }
  return points;
}
