import type { LngLat } from '../frame/frame';

/** What is wrong with a polygon's rings, and where. */
export interface RingFault {
  readonly what: 'crosses' | 'no-area' | 'hole-outside';
  readonly at: LngLat;
}

/** Coordinates are compared on a lattice of this many degrees, about 0.1 mm. */
const latticeDeg = 1e-9;
/** Degrees of latitude are at least this many metres (GRS 80, at the equator: 110,574 m). */
const metresPerDeg = 110_574;
/** Polygons smaller than this have no area worth the name: a sheet of paper. */
const leastAreaM2 = 0.05;

/**
 * The first fault of a polygon's rings: an edge that crosses or touches another one than its neighbours, a ring
 * with no area, a hole that is not in the outer ring. `undefined` when there is none.
 *
 * Corners are put on a lattice of integers around the first one. Within 0.08 degrees of it, products of two
 * differences are below 2^53, so that the side of a line on which a corner lies is decided exactly.
 *
 * @param rings - closed rings, degrees.
 * Cost: a sort of the edges and, for each, those that overlap it along the axis swept: near n log n for the
 * outlines people draw, n^2 for combs of edges that all span the polygon.
 */
export function ringFault(rings: readonly (readonly LngLat[])[]): RingFault | undefined {
  const origin = rings[0][0];
  const lattice = rings.map((ring) => toLattice(ring, origin));
  const place = (x: number, y: number): LngLat => [
    origin[0] + x * latticeDeg,
    origin[1] + y * latticeDeg,
  ];
  for (const ring of lattice) {
    const area =
      Math.abs(twiceArea(ring)) * 0.5 * (latticeDeg * metresPerDeg) ** 2 * cosine(origin);
    // A ring may cross itself so that its parts cancel; that is the truer thing to say.
    if (area < leastAreaM2 && meeting([ring], place)?.proper !== true) {
      return { what: 'no-area', at: place(ring.x[0], ring.y[0]) };
    }
  }
  const met = meeting(lattice, place);
  if (met !== undefined) return { what: 'crosses', at: met.at };
  for (const hole of lattice.slice(1)) {
    if (!insideRing(lattice[0], hole.x[0], hole.y[0])) {
      return { what: 'hole-outside', at: place(hole.x[0], hole.y[0]) };
    }
  }
  return undefined;
}

/** A ring's corners on the lattice, repeats dropped, not closed. */
interface LatticeRing {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

function toLattice(ring: readonly LngLat[], origin: LngLat): LatticeRing {
  const x: number[] = [];
  const y: number[] = [];
  for (const [lng, lat] of ring) {
    const east = Math.round((lng - origin[0]) / latticeDeg);
    const north = Math.round((lat - origin[1]) / latticeDeg);
    if (x.length > 0 && x[x.length - 1] === east && y[y.length - 1] === north) continue;
    x.push(east);
    y.push(north);
  }
  while (x.length > 1 && x[0] === x[x.length - 1] && y[0] === y[y.length - 1]) {
    x.pop();
    y.pop();
  }
  return { x, y };
}

function twiceArea({ x, y }: LatticeRing): number {
  let sum = 0;
  for (let i = 0, j = x.length - 1; i < x.length; j = i++) sum += x[j] * y[i] - x[i] * y[j];
  return sum;
}

function cosine([, lat]: LngLat): number {
  return Math.cos((lat * Math.PI) / 180);
}

function insideRing({ x, y }: LatticeRing, px: number, py: number): boolean {
  let inside = false;
  for (let i = 0, j = x.length - 1; i < x.length; j = i++) {
    if (y[i] > py !== y[j] > py && px < x[i] + ((py - y[i]) * (x[j] - x[i])) / (y[j] - y[i])) {
      inside = !inside;
    }
  }
  return inside;
}

/**
 * A place where two edges meet that should not, swept along the axis on which edges are shorter; `proper` when
 * each has ends on both sides of the other.
 */
function meeting(
  rings: readonly LatticeRing[],
  place: (x: number, y: number) => LngLat,
): { at: LngLat; proper: boolean } | undefined {
  const count = rings.reduce((sum, ring) => sum + ring.x.length, 0);
  const [ax, ay, bx, by] = Array.from({ length: 4 }, () => new Float64Array(count));
  const following = new Int32Array(count);
  let at = 0;
  for (const { x, y } of rings) {
    const first = at;
    for (let i = 0; i < x.length; i++, at++) {
      const next = (i + 1) % x.length;
      ax[at] = x[i];
      ay[at] = y[i];
      bx[at] = x[next];
      by[at] = y[next];
      following[at] = first + next;
    }
  }
  const alongX = spread(ax, bx) <= spread(ay, by);
  const [a, b, c, d] = alongX ? [ax, bx, ay, by] : [ay, by, ax, bx];
  const order = Array.from({ length: count }, (_, i) => i).sort(
    (i, j) => Math.min(a[i], b[i]) - Math.min(a[j], b[j]),
  );
  const active: number[] = [];
  for (const i of order) {
    const low = Math.min(a[i], b[i]);
    const [least, most] = [Math.min(c[i], d[i]), Math.max(c[i], d[i])];
    let kept = 0;
    for (const j of active) {
      if (Math.max(a[j], b[j]) < low) continue;
      active[kept++] = j;
      if (Math.max(c[j], d[j]) < least || Math.min(c[j], d[j]) > most) continue;
      // Neighbours share a corner; one that runs back over the other also meets the edge beyond it.
      if (following[i] === j || following[j] === i) continue;
      if (meet(i, j)) return { at: meetingPlace(i, j), proper: crossProperly(i, j) };
    }
    active.length = kept;
    active.push(i);
  }
  return undefined;

  function side(i: number, px: number, py: number): number {
    return Math.sign((bx[i] - ax[i]) * (py - ay[i]) - (px - ax[i]) * (by[i] - ay[i]));
  }
  function within(i: number, px: number, py: number): boolean {
    return (
      px >= Math.min(ax[i], bx[i]) &&
      px <= Math.max(ax[i], bx[i]) &&
      py >= Math.min(ay[i], by[i]) &&
      py <= Math.max(ay[i], by[i])
    );
  }
  function crossProperly(i: number, j: number): boolean {
    return (
      side(i, ax[j], ay[j]) * side(i, bx[j], by[j]) < 0 &&
      side(j, ax[i], ay[i]) * side(j, bx[i], by[i]) < 0
    );
  }
  function touches(i: number, px: number, py: number): boolean {
    return side(i, px, py) === 0 && within(i, px, py);
  }
  function meet(i: number, j: number): boolean {
    return (
      crossProperly(i, j) ||
      touches(i, ax[j], ay[j]) ||
      touches(i, bx[j], by[j]) ||
      touches(j, ax[i], ay[i]) ||
      touches(j, bx[i], by[i])
    );
  }
  function meetingPlace(i: number, j: number): LngLat {
    const [rx, ry] = [bx[i] - ax[i], by[i] - ay[i]];
    const [sx, sy] = [bx[j] - ax[j], by[j] - ay[j]];
    const cross = rx * sy - ry * sx;
    if (cross === 0) return within(i, ax[j], ay[j]) ? place(ax[j], ay[j]) : place(bx[j], by[j]);
    const t = ((ax[j] - ax[i]) * sy - (ay[j] - ay[i]) * sx) / cross;
    return place(ax[i] + t * rx, ay[i] + t * ry);
  }
}

/** The summed length of edges along an axis, as a share of the whole extent along it. */
function spread(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  let low = Infinity;
  let high = -Infinity;
  for (let i = 0; i < a.length; i++) {
    sum += Math.abs(a[i] - b[i]);
    low = Math.min(low, a[i]);
    high = Math.max(high, a[i]);
  }
  return high > low ? sum / (high - low) : Infinity;
}
