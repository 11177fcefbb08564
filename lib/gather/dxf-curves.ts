import { numberOf, numbersOf, type DxfEntity, type Group } from './dxf-entities';

/** East, north and height in a drawing. */
export type Place = readonly [x: number, y: number, z: number];

/** Step in which curves become lines, radians: 2 degrees, 0.8 mm off an arc of 5 m. Our choice. */
const step = Math.PI / 90;
/** Points along a spline, and the fewest between two of its knots. Our choice: a millimetre off one of 15 m. */
const perSpline = 128;
const fewestPerSpan = 8;

/**
 * The line of a drawn entity in its block's or the drawing's coordinates; `null` for types that are no line. Arcs, circles,
 * ellipses, splines and bulges become lines whose corners lie on the curve.
 */
export function lineOf(entity: DxfEntity): Place[] | null {
  const { type, groups } = entity;
  switch (type) {
    case 'LINE':
      return [placeOf(groups, 0), placeOf(groups, 1)];
    case 'LWPOLYLINE':
      return bulged(lightVertices(groups), isClosed(groups));
    case 'POLYLINE':
      return polyline(entity);
    case 'CIRCLE':
      return arc(groups, 0, 2 * Math.PI);
    case 'ARC': {
      const from = (numberOf(groups, 50, 0) * Math.PI) / 180;
      const to = (numberOf(groups, 51, 360) * Math.PI) / 180;
      return arc(groups, from, sweepTo(from, to));
    }
    case 'ELLIPSE':
      return ellipse(groups);
    case 'SPLINE':
      return spline(groups);
    default:
      return null;
  }
}

/** The place that groups 10, 20, 30 give, or those `offset` after them. */
export function placeOf(groups: readonly Group[], offset: number): Place {
  return [
    numberOf(groups, 10 + offset, 0),
    numberOf(groups, 20 + offset, 0),
    numberOf(groups, 30 + offset, 0),
  ];
}

interface Vertex {
  readonly at: Place;
  /** Tangent of a quarter of the angle of the arc to the next vertex; negative where it turns clockwise. */
  readonly bulge: number;
}

function isClosed(groups: readonly Group[]): boolean {
  return (numberOf(groups, 70, 0) & 1) === 1;
}

function lightVertices(groups: readonly Group[]): Vertex[] {
  const z = numberOf(groups, 38, 0);
  const vertices: { at: [number, number, number]; bulge: number }[] = [];
  for (const [code, value] of groups) {
    if (code === 10) vertices.push({ at: [Number(value), 0, z], bulge: 0 });
    const last = vertices.at(-1);
    if (last === undefined) continue;
    if (code === 20) last.at[1] = Number(value);
    if (code === 42) last.bulge = Number(value);
  }
  return vertices;
}

/** An old polyline by its vertices; a net or a solid of faces is none. */
function polyline({ groups, followers }: DxfEntity): Place[] | null {
  const flags = numberOf(groups, 70, 0);
  if ((flags & (16 | 64)) !== 0) return null;
  const vertices = followers
    .filter(({ type }) => type === 'VERTEX')
    // Points that only pull at a curve are not on it.
    .filter((vertex) => (numberOf(vertex.groups, 70, 0) & 16) === 0)
    .map((vertex) => ({ at: placeOf(vertex.groups, 0), bulge: numberOf(vertex.groups, 42, 0) }));
  return bulged(vertices, isClosed(groups));
}

function bulged(vertices: readonly Vertex[], closed: boolean): Place[] {
  const line: Place[] = [];
  vertices.forEach(({ at, bulge }, i) => {
    line.push(at);
    const next = vertices[i + 1] ?? (closed ? vertices[0] : undefined);
    if (next !== undefined && bulge !== 0) line.push(...betweenOnArc(at, next.at, bulge));
  });
  if (closed && line.length > 0) line.push(line[0]);
  return line;
}

/** Places on the arc between two, without the two. */
function betweenOnArc(from: Place, to: Place, bulge: number): Place[] {
  const angle = 4 * Math.atan(bulge);
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  // The centre lies beside the middle of the chord, left of it for arcs below a half turn counter-clockwise.
  const beside = (1 - bulge * bulge) / (4 * bulge);
  const [cx, cy] = [from[0] + dx / 2 - dy * beside, from[1] + dy / 2 + dx * beside];
  const count = Math.ceil(Math.abs(angle) / step);
  return Array.from({ length: Math.max(0, count - 1) }, (_, i): Place => {
    const turn = (angle * (i + 1)) / count;
    const [x, y] = [from[0] - cx, from[1] - cy];
    return [
      cx + x * Math.cos(turn) - y * Math.sin(turn),
      cy + x * Math.sin(turn) + y * Math.cos(turn),
      from[2],
    ];
  });
}

/** How far it is counter-clockwise from one angle to another; a full turn where they are the same. */
function sweepTo(from: number, to: number): number {
  const sweep = (to - from) % (2 * Math.PI);
  return sweep <= 0 ? sweep + 2 * Math.PI : sweep;
}

function arc(groups: readonly Group[], from: number, sweep: number): Place[] {
  const [cx, cy, z] = placeOf(groups, 0);
  const radius = numberOf(groups, 40, 0);
  return alongAngle(from, sweep, (angle) => [
    cx + radius * Math.cos(angle),
    cy + radius * Math.sin(angle),
    z,
  ]);
}

function ellipse(groups: readonly Group[]): Place[] {
  const [cx, cy, z] = placeOf(groups, 0);
  const [mx, my] = placeOf(groups, 1);
  // Seen from below, it turns the other way round.
  const ratio = numberOf(groups, 40, 1) * (numberOf(groups, 230, 1) < 0 ? -1 : 1);
  const from = numberOf(groups, 41, 0);
  return alongAngle(from, sweepTo(from, numberOf(groups, 42, 2 * Math.PI)), (angle) => [
    cx + mx * Math.cos(angle) - my * ratio * Math.sin(angle),
    cy + my * Math.cos(angle) + mx * ratio * Math.sin(angle),
    z,
  ]);
}

function alongAngle(from: number, sweep: number, at: (angle: number) => Place): Place[] {
  const count = Math.max(1, Math.ceil(sweep / step - 1e-9));
  const line = Array.from({ length: count + 1 }, (_, i) => at(from + (sweep * i) / count));
  // A full turn ends where it begins, to the last digit.
  if (Math.abs(sweep - 2 * Math.PI) < 1e-12) line[count] = line[0];
  return line;
}

/** A spline by its control points, knots and weights (de Boor's recursion); through its fit points where it has no others. */
function spline(groups: readonly Group[]): Place[] {
  const controls = placesOf(groups, 0);
  const degree = numberOf(groups, 71, 3);
  const knots = numbersOf(groups, 40);
  if (controls.length <= degree || knots.length < controls.length + degree + 1) {
    const through = placesOf(groups, 1);
    return through.length > 0 ? through : controls;
  }
  const weights = numbersOf(groups, 41);
  const points = controls.map(([x, y, z], i) => {
    const w = weights[i] ?? 1;
    return [x * w, y * w, z * w, w];
  });
  const perSpan = Math.max(fewestPerSpan, Math.ceil(perSpline / (controls.length - degree)));
  const line: Place[] = [];
  for (let span = degree; span < controls.length; span++) {
    const [low, high] = [knots[span], knots[span + 1]];
    if (!(high > low)) continue;
    for (let i = line.length === 0 ? 0 : 1; i <= perSpan; i++) {
      line.push(onSpline(points, knots, degree, span, low + ((high - low) * i) / perSpan));
    }
  }
  return line;
}

function onSpline(
  points: readonly (readonly number[])[],
  knots: readonly number[],
  degree: number,
  span: number,
  t: number,
): Place {
  const near = Array.from({ length: degree + 1 }, (_, j) => [...points[span - degree + j]]);
  for (let level = 1; level <= degree; level++) {
    for (let j = degree; j >= level; j--) {
      const low = knots[span - degree + j];
      const wide = knots[span + 1 + j - level] - low;
      const share = wide === 0 ? 0 : (t - low) / wide;
      near[j] = near[j].map((value, k) => (1 - share) * near[j - 1][k] + share * value);
    }
  }
  const [x, y, z, w] = near[degree];
  return [x / w, y / w, z / w];
}

function placesOf(groups: readonly Group[], offset: number): Place[] {
  const [x, y, z] = [10, 20, 30].map((code) => numbersOf(groups, code + offset));
  return x.map((each, i): Place => [each, y[i] ?? 0, z[i] ?? 0]);
}
