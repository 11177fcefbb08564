import type { XY } from '../../frame/frame';
import type { Shape } from '../../frame/shapes';

/** A distance this little short is rounding, not a breach: half a millimetre. */
export const roundingM = 0.0005;
/** How far an overlap's depth may be short of the true one: half a centimetre. */
const depthErrorM = 0.005;

/**
 * A shape laid out for measuring many times: flat arrays and a box. Distances to it are exact but for rounding of
 * doubles; a polygon counts as filled.
 */
export interface Outline {
  readonly filled: boolean;
  /** x, y of each vertex. */
  readonly vertices: Float64Array;
  /** ax, ay, bx, by of each segment; a point is one segment of no length. */
  readonly segments: Float64Array;
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
}

/** How a basin's rim lies to a feature. */
export interface Separation {
  /** Shortest horizontal distance, 0 when they touch or overlap. */
  readonly distanceM: number;
  /**
   * When they overlap, how deep, to within half a centimetre; else 0. It is the greatest distance from a point of either
   * outline that lies in the other shape to that shape's edge; of one outline laid on the very same, from its middle.
   */
  readonly penetrationM: number;
  /** The nearest point of the rim, and of the feature. */
  readonly from: XY;
  readonly to: XY;
}

const outlines = new WeakMap<Shape, Outline>();

/** The outline of a shape. Made once for each shape object and kept as long as that is. */
export function outlineOf(shape: Shape): Outline {
  let outline = outlines.get(shape);
  if (outline === undefined) {
    outline = makeOutline(shape);
    outlines.set(shape, outline);
  }
  return outline;
}

/**
 * Distance between a rim and a feature, and where it is shortest.
 *
 * Two shapes apart from each other are nearest at a vertex of one of them, so vertices are measured against segments
 * both ways, leaving out what the boxes rule out.
 *
 * Cost: at most (vertices x segments), a fraction of it for shapes that are apart.
 */
export function separation(rim: Outline, feature: Outline): Separation {
  const touch = sharedPoint(rim, feature);
  if (touch !== undefined) return overlap(rim, feature, touch);
  const best: Best = { squared: Infinity, fromX: 0, fromY: 0, toX: 0, toY: 0 };
  nearestVertex(feature, rim, best);
  const swapped: Best = { squared: best.squared, fromX: 0, fromY: 0, toX: 0, toY: 0 };
  nearestVertex(rim, feature, swapped);
  return swapped.squared < best.squared
    ? {
        distanceM: Math.sqrt(swapped.squared),
        penetrationM: 0,
        from: [swapped.fromX, swapped.fromY],
        to: [swapped.toX, swapped.toY],
      }
    : {
        distanceM: Math.sqrt(best.squared),
        penetrationM: 0,
        from: [best.toX, best.toY],
        to: [best.fromX, best.fromY],
      };
}

/** A point that two shapes share, or `undefined` when they are apart. Cheaper than their distance. */
export function sharedPoint(a: Outline, b: Outline): XY | undefined {
  return boxesMeet(a, b) ? meetingPoint(a, b) : undefined;
}

/**
 * How far a rim keeps inside a lot: the shortest distance to the lot's boundary (holes included) in `distanceM`, and
 * when some of the rim lies outside, minus how far out.
 */
export function insideSeparation(rim: Outline, lot: Outline): Separation {
  const out = deepest(rim, lot, false);
  const hole = deepest(edgesOnly(lot), rim, true);
  const worst = hole !== undefined && (out === undefined || hole.depthM > out.depthM) ? hole : out;
  if (worst !== undefined && worst.depthM > 0) {
    return {
      distanceM: -worst.depthM,
      penetrationM: worst.depthM,
      from: worst.at,
      to: worst.onBoundary,
    };
  }
  return separation(edgesOnly(rim), edgesOnly(lot));
}

/** Distance from a point to a feature: 0 inside a polygon. */
export function pointDistance(feature: Outline, x: number, y: number): number {
  if (feature.filled && isInside(feature, x, y)) return 0;
  return boundaryDistance(feature, x, y);
}

/** Distance from a point to the nearest edge of a feature, whether the point is inside or out. */
export function boundaryDistance(feature: Outline, x: number, y: number): number {
  const { segments } = feature;
  let best = Infinity;
  for (let s = 0; s < segments.length; s += 4) {
    const squared = squaredToSegment(x, y, segments, s);
    if (squared < best) best = squared;
  }
  return Math.sqrt(best);
}

/** The point of a feature's edges that is nearest to a point. */
export function boundaryPoint(feature: Outline, x: number, y: number): XY {
  const { segments } = feature;
  let best = Infinity;
  let at = 0;
  for (let s = 0; s < segments.length; s += 4) {
    const squared = squaredToSegment(x, y, segments, s);
    if (squared < best) {
      best = squared;
      at = s;
    }
  }
  const t = fractionAlong(x, y, segments, at);
  return [
    segments[at] + t * (segments[at + 2] - segments[at]),
    segments[at + 1] + t * (segments[at + 3] - segments[at + 1]),
  ];
}

/** Whether a point lies in a polygon's outline and in none of its holes (by counting crossings to the east). */
export function isInside(feature: Outline, x: number, y: number): boolean {
  if (x < feature.west || x > feature.east || y < feature.south || y > feature.north) return false;
  const { segments } = feature;
  let inside = false;
  for (let s = 0; s < segments.length; s += 4) {
    const ay = segments[s + 1];
    const by = segments[s + 3];
    if (ay > y !== by > y) {
      const ax = segments[s];
      if (x < ax + ((y - ay) * (segments[s + 2] - ax)) / (by - ay)) inside = !inside;
    }
  }
  return inside;
}

interface Best {
  squared: number;
  fromX: number;
  fromY: number;
  toX: number;
  toY: number;
}

interface Deep {
  readonly depthM: number;
  readonly at: XY;
  readonly onBoundary: XY;
}

function makeOutline(shape: Shape): Outline {
  const rings =
    shape.type === 'point' ? [[shape.at]] : shape.type === 'line' ? [shape.points] : shape.rings;
  const closed = shape.type === 'polygon';
  const vertices: number[] = [];
  const segments: number[] = [];
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings) {
    ring.forEach(([x, y], i) => {
      vertices.push(x, y);
      if (x < west) west = x;
      if (x > east) east = x;
      if (y < south) south = y;
      if (y > north) north = y;
      if (i > 0) segments.push(ring[i - 1][0], ring[i - 1][1], x, y);
    });
    const first = ring[0];
    const last = ring[ring.length - 1];
    if (closed || ring.length === 1) segments.push(last[0], last[1], first[0], first[1]);
  }
  return {
    filled: closed,
    vertices: Float64Array.from(vertices),
    segments: Float64Array.from(segments),
    west,
    south,
    east,
    north,
  };
}

/** The same edges, not filled. */
function edgesOnly(outline: Outline): Outline {
  return { ...outline, filled: false };
}

function boxesMeet(a: Outline, b: Outline): boolean {
  return a.west <= b.east && b.west <= a.east && a.south <= b.north && b.south <= a.north;
}

/** Improves `best` by the vertices of one outline measured to the segments of another. */
function nearestVertex(a: Outline, b: Outline, best: Best): void {
  const { vertices } = a;
  const { segments } = b;
  for (let v = 0; v < vertices.length; v += 2) {
    const x = vertices[v];
    const y = vertices[v + 1];
    const gapX = x < b.west ? b.west - x : x > b.east ? x - b.east : 0;
    const gapY = y < b.south ? b.south - y : y > b.north ? y - b.north : 0;
    if (gapX * gapX + gapY * gapY >= best.squared) continue;
    for (let s = 0; s < segments.length; s += 4) {
      const squared = squaredToSegment(x, y, segments, s);
      if (squared >= best.squared) continue;
      const t = fractionAlong(x, y, segments, s);
      best.squared = squared;
      best.fromX = x;
      best.fromY = y;
      best.toX = segments[s] + t * (segments[s + 2] - segments[s]);
      best.toY = segments[s + 1] + t * (segments[s + 3] - segments[s + 1]);
    }
  }
}

function fractionAlong(x: number, y: number, segments: Float64Array, s: number): number {
  const ax = segments[s];
  const ay = segments[s + 1];
  const dx = segments[s + 2] - ax;
  const dy = segments[s + 3] - ay;
  const squared = dx * dx + dy * dy;
  if (squared === 0) return 0;
  const t = ((x - ax) * dx + (y - ay) * dy) / squared;
  return t < 0 ? 0 : t > 1 ? 1 : t;
}

function squaredToSegment(x: number, y: number, segments: Float64Array, s: number): number {
  const t = fractionAlong(x, y, segments, s);
  const dx = x - segments[s] - t * (segments[s + 2] - segments[s]);
  const dy = y - segments[s + 1] - t * (segments[s + 3] - segments[s + 1]);
  return dx * dx + dy * dy;
}

/** A point that both shapes have, or `undefined` when they are apart. */
function meetingPoint(a: Outline, b: Outline): XY | undefined {
  if (b.filled && isInside(b, a.vertices[0], a.vertices[1])) return [a.vertices[0], a.vertices[1]];
  if (a.filled && isInside(a, b.vertices[0], b.vertices[1])) return [b.vertices[0], b.vertices[1]];
  for (let s = 0; s < a.segments.length; s += 4) {
    for (let r = 0; r < b.segments.length; r += 4) {
      const t = crossing(a.segments, s, b.segments, r);
      if (t >= 0) {
        return [
          a.segments[s] + t * (a.segments[s + 2] - a.segments[s]),
          a.segments[s + 1] + t * (a.segments[s + 3] - a.segments[s + 1]),
        ];
      }
    }
  }
  return undefined;
}

/** Where along the first segment a second one crosses or touches it, 0 to 1, or -1 (also when parallel). */
function crossing(a: Float64Array, s: number, b: Float64Array, r: number): number {
  const dx = a[s + 2] - a[s];
  const dy = a[s + 3] - a[s + 1];
  const ex = b[r + 2] - b[r];
  const ey = b[r + 3] - b[r + 1];
  const cross = dx * ey - dy * ex;
  if (cross === 0) return -1;
  const gx = b[r] - a[s];
  const gy = b[r + 1] - a[s + 1];
  const t = (gx * ey - gy * ex) / cross;
  const u = (gx * dy - gy * dx) / cross;
  return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? t : -1;
}

function overlap(rim: Outline, feature: Outline, touch: XY): Separation {
  const candidates = [deepest(feature, rim, true), centreDepth(rim, feature)];
  if (feature.filled) candidates.push(deepest(rim, feature, true));
  let best: Deep = { depthM: 0, at: touch, onBoundary: touch };
  for (const deep of candidates) {
    if (deep !== undefined && deep.depthM > best.depthM) best = deep;
  }
  return { distanceM: 0, penetrationM: best.depthM, from: best.at, to: best.at };
}

/**
 * Of the points of one outline inside (or outside) another polygon, the one farthest from that polygon's edges, to
 * `depthErrorM`.
 *
 * Each side is cut where it crosses the other outline. Along a part the distance changes no faster than the place does,
 * so half of a part whose ends allow nothing deeper than what is found already is left out.
 */
function deepest(a: Outline, b: Outline, inside: boolean): Deep | undefined {
  let best: Deep | undefined;
  const consider = (x: number, y: number): number => {
    const depthM = boundaryDistance(b, x, y);
    if (best === undefined || depthM > best.depthM) {
      best = { depthM, at: [x, y], onBoundary: boundaryPoint(b, x, y) };
    }
    return depthM;
  };
  const search = (ax: number, ay: number, aM: number, bx: number, by: number, bM: number): void => {
    const lengthM = Math.hypot(bx - ax, by - ay);
    const couldBeM = (aM + bM + lengthM) / 2;
    if (best !== undefined && couldBeM <= best.depthM + depthErrorM) return;
    const x = (ax + bx) / 2;
    const y = (ay + by) / 2;
    const middleM = consider(x, y);
    search(ax, ay, aM, x, y, middleM);
    search(x, y, middleM, bx, by, bM);
  };
  for (let s = 0; s < a.segments.length; s += 4) {
    const ax = a.segments[s];
    const ay = a.segments[s + 1];
    const dx = a.segments[s + 2] - ax;
    const dy = a.segments[s + 3] - ay;
    const stops = [0, 1];
    for (let r = 0; r < b.segments.length; r += 4) {
      const t = crossing(a.segments, s, b.segments, r);
      if (t > 0 && t < 1) stops.push(t);
    }
    stops.sort((one, other) => one - other);
    for (let i = 1; i < stops.length; i++) {
      const middle = (stops[i - 1] + stops[i]) / 2;
      if (isInside(b, ax + middle * dx, ay + middle * dy) !== inside) continue;
      const [x0, y0] = [ax + stops[i - 1] * dx, ay + stops[i - 1] * dy];
      const [x1, y1] = [ax + stops[i] * dx, ay + stops[i] * dy];
      search(x0, y0, consider(x0, y0), x1, y1, consider(x1, y1));
    }
  }
  return best;
}

/** Depth at the rim's mean point, so that a feature of the very same outline counts as under the basin. */
function centreDepth(rim: Outline, feature: Outline): Deep | undefined {
  if (!feature.filled) return undefined;
  let x = 0;
  let y = 0;
  for (let v = 0; v < rim.vertices.length; v += 2) {
    x += rim.vertices[v];
    y += rim.vertices[v + 1];
  }
  x /= rim.vertices.length / 2;
  y /= rim.vertices.length / 2;
  if (!isInside(rim, x, y) || !isInside(feature, x, y)) return undefined;
  const depthM = Math.min(boundaryDistance(rim, x, y), boundaryDistance(feature, x, y));
  return { depthM, at: [x, y], onBoundary: boundaryPoint(feature, x, y) };
}
