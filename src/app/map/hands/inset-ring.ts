import type { XY } from '../../../../lib/frame/frame';

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
  const inward = signedArea(ring) > 0 ? 1 : -1;
  const inset: XY[] = [];
  for (const [point, direction] of alongRing(ring, distanceM / 3)) {
    const moved: XY = [
      point[0] - direction[1] * inward * distanceM,
      point[1] + direction[0] * inward * distanceM,
    ];
    if (isInside(ring, moved) && distanceToRing(ring, moved) > distanceM * 0.985) {
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

/** Twice the area of a closed ring, positive when it runs anticlockwise. */
export function signedArea(ring: readonly XY[]): number {
  let sum = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[i + 1];
    sum += ax * by - bx * ay;
  }
  return sum;
}

/** Area of a closed ring without its holes. */
export function areaOf(ring: readonly XY[], holes: readonly (readonly XY[])[]): number {
  return holes.reduce(
    (area, hole) => area - Math.abs(signedArea(hole)) / 2,
    Math.abs(signedArea(ring)) / 2,
  );
}

/** Whether a point lies inside a closed ring (even-odd). */
export function isInside(ring: readonly XY[], [x, y]: XY): boolean {
  let inside = false;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[i + 1];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

/** Shortest distance from a point to a ring's line. */
export function distanceToRing(ring: readonly XY[], [x, y]: XY): number {
  let nearest = Infinity;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[i + 1];
    const dx = bx - ax;
    const dy = by - ay;
    const squared = dx * dx + dy * dy;
    const t =
      squared === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / squared));
    nearest = Math.min(nearest, Math.hypot(x - ax - t * dx, y - ay - t * dy));
  }
  return nearest;
}

/**
 * A place for a label well inside a ring and outside its holes: of a coarse grid of points, the one farthest
 * from their lines, preferring a little the middle of the ring's box.
 */
export function labelPoint(ring: readonly XY[], holes: readonly (readonly XY[])[] = []): XY {
  let west = Infinity;
  let south = Infinity;
  let east = -Infinity;
  let north = -Infinity;
  for (const [x, y] of ring) {
    west = Math.min(west, x);
    south = Math.min(south, y);
    east = Math.max(east, x);
    north = Math.max(north, y);
  }
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
      if (!isInside(ring, point) || holes.some((hole) => isInside(hole, point))) continue;
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
