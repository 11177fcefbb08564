import type { XY } from './frame';

/**
 * Planar geometry in the lot's local metric frame: lengths in metres, areas in square metres. Everything is
 * exact but for rounding of doubles; nothing is densified, simplified or snapped. Coordinates a few
 * kilometres from the frame's origin keep better than a micrometre.
 */

/** Corners in order, the first not repeated at the end (a repeated one does no harm). */
export type Ring = readonly XY[];

/** The outer ring, then any holes. Which way the rings turn does not matter. */
export type Rings = readonly Ring[];

export interface PointShape {
  readonly type: 'point';
  readonly at: XY;
}
export interface LineShape {
  readonly type: 'line';
  readonly points: readonly XY[];
}
export interface PolygonShape {
  readonly type: 'polygon';
  readonly rings: Rings;
}
export type Shape = PointShape | LineShape | PolygonShape;

/** The shortest way between two shapes. `from` lies on the first, `to` on the second. */
export interface Nearest {
  readonly distanceM: number;
  readonly from: XY;
  readonly to: XY;
}

export interface Bounds {
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
}

/** Area of a ring, positive when it turns counter-clockwise. */
export function signedAreaM2(ring: Ring): number {
  if (ring.length < 3) return 0;
  const [x0, y0] = ring[0];
  let twice = 0;
  // Measured from the first corner, so that a far origin costs no digits.
  for (let i = 1; i + 1 < ring.length; i++) {
    twice += (ring[i][0] - x0) * (ring[i + 1][1] - y0) - (ring[i + 1][0] - x0) * (ring[i][1] - y0);
  }
  return twice / 2;
}

/** Area of a polygon, its holes taken off. */
export function areaM2(rings: Rings): number {
  return rings.reduce((sum, ring, i) => sum + (i === 0 ? 1 : -1) * Math.abs(signedAreaM2(ring)), 0);
}

/** Centre of area of a polygon with its holes; the mean of the corners when the area is zero. */
export function centroid(rings: Rings): XY {
  const [x0, y0] = rings[0][0];
  let area = 0;
  let sumX = 0;
  let sumY = 0;
  rings.forEach((ring, r) => {
    const turn = signedAreaM2(ring) < 0 === (r === 0) ? -1 : 1;
    for (let i = 0; i < ring.length; i++) {
      const [ax, ay] = ring[i];
      const [bx, by] = ring[(i + 1) % ring.length];
      const cross = turn * ((ax - x0) * (by - y0) - (bx - x0) * (ay - y0));
      area += cross;
      sumX += cross * (ax - x0 + bx - x0);
      sumY += cross * (ay - y0 + by - y0);
    }
  });
  if (area === 0) {
    const outer = rings[0];
    return [
      outer.reduce((sum, point) => sum + point[0], 0) / outer.length,
      outer.reduce((sum, point) => sum + point[1], 0) / outer.length,
    ];
  }
  return [x0 + sumX / (3 * area), y0 + sumY / (3 * area)];
}

/** Length along a line's points. */
export function lengthM(points: readonly XY[]): number {
  let sum = 0;
  for (let i = 1; i < points.length; i++) sum += distanceM(points[i - 1], points[i]);
  return sum;
}

/** Length around a ring. */
export function perimeterM(ring: Ring): number {
  return ring.length === 0 ? 0 : lengthM(ring) + distanceM(ring[ring.length - 1], ring[0]);
}

/** Distance between two points. */
export function distanceM(a: XY, b: XY): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/**
 * Whether a point lies in a polygon and in none of its holes. By counting crossings of a ray to the east;
 * a point exactly on an edge falls to one side, so that polygons sharing the edge never both claim it.
 */
export function contains(rings: Rings, point: XY): boolean {
  const [x, y] = point;
  let inside = false;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [ax, ay] = ring[i];
      const [bx, by] = ring[j];
      if (ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside;
    }
  }
  return inside;
}

/** The point of a segment that is nearest to a point. */
export function nearestOnSegment(point: XY, a: XY, b: XY): XY {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const squared = dx * dx + dy * dy;
  if (squared === 0) return a;
  const t = ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / squared;
  if (t <= 0) return a;
  if (t >= 1) return b;
  return [a[0] + t * dx, a[1] + t * dy];
}

/** The point that two segments share, or `undefined`. Of two that overlap along a line, one shared point. */
export function segmentCrossing(a: XY, b: XY, c: XY, d: XY): XY | undefined {
  const rx = b[0] - a[0];
  const ry = b[1] - a[1];
  const sx = d[0] - c[0];
  const sy = d[1] - c[1];
  const cross = rx * sy - ry * sx;
  if (cross !== 0) {
    const t = ((c[0] - a[0]) * sy - (c[1] - a[1]) * sx) / cross;
    const u = ((c[0] - a[0]) * ry - (c[1] - a[1]) * rx) / cross;
    return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? [a[0] + t * rx, a[1] + t * ry] : undefined;
  }
  const ends: [XY, XY, XY][] = [
    [a, c, d],
    [b, c, d],
    [c, a, b],
    [d, a, b],
  ];
  return ends.find(([end, from, to]) => distanceM(end, nearestOnSegment(end, from, to)) === 0)?.[0];
}

/**
 * The shortest distance between two shapes and where it is. Polygons count as filled: shapes that touch,
 * cross or lie within one another are 0 apart, at a point that both have.
 * Cost: the product of the two numbers of vertices; nothing is allocated per pair but a few small arrays.
 */
export function nearest(a: Shape, b: Shape): Nearest {
  const within = sharedInside(a, b) ?? sharedInside(b, a);
  if (within !== undefined) return { distanceM: 0, from: within, to: within };
  return nearestEdges(a, b);
}

/** The shortest way between the edges of two shapes, whether or not one lies inside the other. */
export function nearestEdges(a: Shape, b: Shape): Nearest {
  let best: Nearest = { distanceM: Number.POSITIVE_INFINITY, from: [NaN, NaN], to: [NaN, NaN] };
  eachSegment(a, (a0, a1) => {
    eachSegment(b, (b0, b1) => {
      const near = nearestOfSegments(a0, a1, b0, b1);
      if (near.distanceM < best.distanceM) best = near;
    });
  });
  return best;
}

/** The smallest upright box around some points. */
export function boundsOf(points: readonly XY[]): Bounds {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    if (x < west) west = x;
    if (x > east) east = x;
    if (y < south) south = y;
    if (y > north) north = y;
  }
  return { west, south, east, north };
}

/** Every vertex of a shape, in order. */
export function verticesOf(shape: Shape): readonly XY[] {
  switch (shape.type) {
    case 'point':
      return [shape.at];
    case 'line':
      return shape.points;
    case 'polygon':
      return shape.rings.length === 1 ? shape.rings[0] : shape.rings.flat();
  }
}

/** A vertex of the first shape that lies inside the second, when that is a polygon. */
function sharedInside(a: Shape, b: Shape): XY | undefined {
  if (b.type !== 'polygon') return undefined;
  const first = verticesOf(a)[0];
  // One vertex is enough: were another inside and this one not, an edge would cross the rim.
  return contains(b.rings, first) ? first : undefined;
}

function nearestOfSegments(a0: XY, a1: XY, b0: XY, b1: XY): Nearest {
  const crossing = segmentCrossing(a0, a1, b0, b1);
  if (crossing !== undefined) return { distanceM: 0, from: crossing, to: crossing };
  const ways: [XY, XY][] = [
    [a0, nearestOnSegment(a0, b0, b1)],
    [a1, nearestOnSegment(a1, b0, b1)],
    [nearestOnSegment(b0, a0, a1), b0],
    [nearestOnSegment(b1, a0, a1), b1],
  ];
  let best = ways[0];
  for (const way of ways) if (distanceM(...way) < distanceM(...best)) best = way;
  return { distanceM: distanceM(...best), from: best[0], to: best[1] };
}

function eachSegment(shape: Shape, visit: (a: XY, b: XY) => void): void {
  if (shape.type === 'point') {
    visit(shape.at, shape.at);
    return;
  }
  if (shape.type === 'line') {
    const { points } = shape;
    if (points.length === 1) visit(points[0], points[0]);
    for (let i = 1; i < points.length; i++) visit(points[i - 1], points[i]);
    return;
  }
  for (const ring of shape.rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) visit(ring[j], ring[i]);
  }
}
