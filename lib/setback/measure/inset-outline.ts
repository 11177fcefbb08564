import type { XY } from '../../frame/frame';
import type { Outline } from './outline';

/** Round corners are drawn in chords that keep to the true arc within this, metres. */
const arcErrorM = 0.0005;
/** Points this little nearer to the rim than the inset still count as on the inner edge, metres. */
const slackM = 0.001;

/**
 * The edge of what lies inside a ring at least a distance from it: the level floor of a bowl whose sides fall evenly
 * from the rim. It may fall into several parts.
 *
 * Each side is moved inwards and cut where it comes too near to another; what remains, with arcs round the corners that
 * point inwards, is the edge. Good to a millimetre.
 *
 * @param ring - an outline of one ring that does not cross itself.
 * @returns `null` where nothing of the ring lies so far inside.
 * Cost: the square of the number of corners.
 */
export function insetOutline(ring: Outline, insetM: number): Outline | null {
  if (insetM <= 0) return ring;
  const corners = ring.segments.length / 4;
  const turn = turnOf(ring);
  const pieces: Piece[] = [];
  for (let i = 0; i < corners; i++) {
    const [ax, ay, bx, by] = side(ring, i);
    const length = Math.hypot(bx - ax, by - ay);
    if (length === 0) continue;
    const nx = (-turn * (by - ay) * insetM) / length;
    const ny = (turn * (bx - ax) * insetM) / length;
    keep(ring, [ax + nx, ay + ny], [bx + nx, by + ny], insetM, pieces);
    for (const [from, to] of chords([bx, by], [nx, ny], normalAfter(ring, i, turn, insetM), turn)) {
      keep(ring, from, to, insetM, pieces);
    }
  }
  return pieces.length === 0 ? null : asOutline(chained(pieces));
}

type Piece = readonly [from: XY, to: XY];

function side(ring: Outline, i: number): readonly [number, number, number, number] {
  const { segments } = ring;
  return [segments[4 * i], segments[4 * i + 1], segments[4 * i + 2], segments[4 * i + 3]];
}

/** 1 for a ring that turns counter-clockwise, -1 for the other way. */
function turnOf(ring: Outline): 1 | -1 {
  let twice = 0;
  const [x0, y0] = side(ring, 0);
  for (let i = 0; i < ring.segments.length / 4; i++) {
    const [ax, ay, bx, by] = side(ring, i);
    twice += (ax - x0) * (by - y0) - (bx - x0) * (ay - y0);
  }
  return twice < 0 ? -1 : 1;
}

/** The inward normal, as long as the inset, of the next side that has a length. */
function normalAfter(ring: Outline, i: number, turn: number, insetM: number): XY {
  const corners = ring.segments.length / 4;
  for (let k = 1; k <= corners; k++) {
    const [ax, ay, bx, by] = side(ring, (i + k) % corners);
    const length = Math.hypot(bx - ax, by - ay);
    if (length > 0) {
      return [(-turn * (by - ay) * insetM) / length, (turn * (bx - ax) * insetM) / length];
    }
  }
  return [0, 0];
}

/** The arc round a corner that points inwards, in chords; none at a corner that points outwards. */
function chords(corner: XY, from: XY, to: XY, turn: number): Piece[] {
  const angle = Math.atan2(from[0] * to[1] - from[1] * to[0], from[0] * to[0] + from[1] * to[1]);
  if (angle * turn >= -1e-9) return [];
  const radius = Math.hypot(from[0], from[1]);
  const step = 2 * Math.acos(Math.max(0, 1 - arcErrorM / radius));
  const count = Math.max(1, Math.ceil(Math.abs(angle) / step));
  const start = Math.atan2(from[1], from[0]);
  const at = (k: number): XY => {
    const here = start + (angle * k) / count;
    return [corner[0] + radius * Math.cos(here), corner[1] + radius * Math.sin(here)];
  };
  return Array.from({ length: count }, (_, k): Piece => [at(k), at(k + 1)]);
}

/** Adds the parts of a piece that keep the inset from every side of the ring. */
function keep(ring: Outline, from: XY, to: XY, insetM: number, pieces: Piece[]): void {
  const near: (readonly [number, number])[] = [];
  for (let j = 0; j < ring.segments.length / 4; j++) {
    const within = withinReach(from, to, side(ring, j), insetM - slackM);
    if (within === null) continue;
    if (within[0] <= 0 && within[1] >= 1) return;
    near.push(within);
  }
  near.sort((a, b) => a[0] - b[0]);
  const at = (t: number): XY => [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
  let clear = 0;
  for (const [start, end] of near) {
    if (start > clear) pieces.push([at(clear), at(start)]);
    clear = Math.max(clear, end);
    if (clear >= 1) return;
  }
  pieces.push([at(clear), to]);
}

/**
 * The stretch of from-to, as fractions of it, that lies nearer to a segment than a reach. The places so near are
 * convex, so there is at most one such stretch: from the first to the last that the two ends' circles and the strip
 * between them cover.
 */
function withinReach(
  from: XY,
  to: XY,
  [ax, ay, bx, by]: readonly [number, number, number, number],
  reachM: number,
): readonly [number, number] | null {
  let first = Infinity;
  let last = -Infinity;
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const squared = dx * dx + dy * dy;
  if (squared === 0) return null;
  const cover = (start: number, end: number): void => {
    const a = Math.max(0, start);
    const b = Math.min(1, end);
    if (a >= b) return;
    first = Math.min(first, a);
    last = Math.max(last, b);
  };
  for (const [cx, cy] of [
    [ax, ay],
    [bx, by],
  ]) {
    const middle = ((cx - from[0]) * dx + (cy - from[1]) * dy) / squared;
    const off = (cx - from[0] - middle * dx) ** 2 + (cy - from[1] - middle * dy) ** 2;
    const half = Math.sqrt(Math.max(0, (reachM * reachM - off) / squared));
    if (off < reachM * reachM) cover(middle - half, middle + half);
  }
  const length = Math.hypot(bx - ax, by - ay);
  if (length > 0) {
    const ux = (bx - ax) / length;
    const uy = (by - ay) / length;
    const along = slab((from[0] - ax) * ux + (from[1] - ay) * uy, dx * ux + dy * uy, 0, length);
    const across = slab(
      (from[1] - ay) * ux - (from[0] - ax) * uy,
      dy * ux - dx * uy,
      -reachM,
      reachM,
    );
    cover(Math.max(along[0], across[0]), Math.min(along[1], across[1]));
  }
  return first < last ? [first, last] : null;
}

/** Where start + t x speed lies between two bounds. */
function slab(start: number, speed: number, low: number, high: number): readonly [number, number] {
  if (Math.abs(speed) < 1e-15) {
    return start > low && start < high ? [-Infinity, Infinity] : [Infinity, -Infinity];
  }
  const a = (low - start) / speed;
  const b = (high - start) / speed;
  return a < b ? [a, b] : [b, a];
}

/** The pieces with the small gaps between them closed: each end goes on to the nearest beginning. */
function chained(pieces: readonly Piece[]): Piece[] {
  const closed = [...pieces];
  const open = new Set(pieces.keys());
  for (const [, end] of pieces) {
    let best = -1;
    let bestSquared = Infinity;
    for (const k of open) {
      const [start] = pieces[k];
      const squared = (start[0] - end[0]) ** 2 + (start[1] - end[1]) ** 2;
      if (squared < bestSquared) [best, bestSquared] = [k, squared];
    }
    open.delete(best);
    if (bestSquared > 0) closed.push([end, pieces[best][0]]);
  }
  return closed;
}

function asOutline(pieces: readonly Piece[]): Outline {
  const segments = new Float64Array(4 * pieces.length);
  const vertices = new Float64Array(2 * pieces.length);
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  pieces.forEach(([from, to], i) => {
    segments.set([...from, ...to], 4 * i);
    vertices.set(from, 2 * i);
    west = Math.min(west, from[0], to[0]);
    east = Math.max(east, from[0], to[0]);
    south = Math.min(south, from[1], to[1]);
    north = Math.max(north, from[1], to[1]);
  });
  return { filled: true, vertices, segments, west, south, east, north };
}
