import type { XY } from '../frame/frame';
import { nearestOnSegment } from '../frame/shapes';
import { footOn, meetingOf } from './turns';

/** What a corner that is being drawn may be caught by. */
export type CatchKind =
  | 'corner'
  | 'middle'
  | 'edge'
  /** Square onto an edge from the last corner. */
  | 'square-on'
  /** On the line of an edge, beyond its end. */
  | 'in-line'
  /** From the last corner, alongside an edge. */
  | 'parallel'
  /** At a right angle to the last side, or straight on. */
  | 'right-angle'
  /** Level with a corner that is placed, along the last side or square to it. */
  | 'level'
  /** Where two of these lines cross. */
  | 'crossing';

/** A line that led the pointer, to be drawn as a sign of what was caught. */
export interface Guide {
  readonly from: XY;
  readonly to: XY;
}

export interface Caught {
  readonly at: XY;
  readonly kind: CatchKind;
  /** For a crossing, the two that cross. */
  readonly of: readonly CatchKind[];
  readonly guides: readonly Guide[];
}

/** Lines that may catch: a point is a line of one corner, rings repeat their first corner at the end. */
export type CatchLine = readonly XY[];

/** What has been drawn so far of the feature at work. */
export interface DrawnSoFar {
  readonly corners: readonly XY[];
}

/** Corners catch from farther away than edges do: they lie on edges. */
const cornerReach = 1;
const edgeReach = 0.65;
const guideReach = 0.6;
/** Edges whose lines may lead the pointer lie within so many reaches of it. */
const nearReaches = 12;
/** Edges shorter than this lead nowhere, metres. */
const leastEdgeM = 0.3;
/** So many of the nearest edges lead. */
const mostLeading = 6;

/**
 * What catches the pointer: a corner before a middle, then where an edge is met square, where two lines cross, an edge,
 * and last a single line. Null where nothing is within reach.
 *
 * @param pointer - metres in the local frame, as are the lines.
 * @param reachM - how near a corner must be; others must be nearer.
 * Cost: linear in the edges, and the square of the few that lead.
 */
export function catchAt(
  pointer: XY,
  lines: readonly CatchLine[],
  drawn: DrawnSoFar,
  reachM: number,
): Caught | null {
  const last = drawn.corners.at(-1);
  const near = nearTo(pointer, [...lines, drawn.corners], reachM, last);
  if (near.corner !== null) return caught('corner', near.corner);
  if (near.middle !== null) return caught('middle', near.middle);
  const onto =
    last === undefined ? null : squareOnto(pointer, last, near.edges, edgeReach * reachM);
  if (onto !== null) return onto;
  const guides = guidesFrom(near.edges, drawn, pointer);
  const crossing = crossingNear(pointer, guides, near.edges, guideReach * reachM);
  if (crossing !== null) return crossing;
  if (near.edge !== null) return caught('edge', near.edge);
  return bestGuide(pointer, guides, guideReach * reachM);
}

/** Where a way from the last corner comes square onto an edge near the pointer; null where none does. */
function squareOnto(pointer: XY, last: XY, edges: readonly Edge[], reachM: number): Caught | null {
  for (const { from, to, offM } of edges) {
    if (offM > reachM) break;
    const { at, alongM } = footOn(from, to, last);
    const isOn = alongM >= 0 && alongM <= apart(from, to);
    if (isOn && apart(pointer, at) <= reachM && apart(at, last) >= leastEdgeM) {
      return { at, kind: 'square-on', of: [], guides: [{ from: last, to: at }] };
    }
  }
  return null;
}

interface Edge {
  readonly from: XY;
  readonly to: XY;
  readonly offM: number;
}

interface Near {
  readonly corner: XY | null;
  readonly middle: XY | null;
  readonly edge: XY | null;
  /** Edges near enough to lead, the nearest first. */
  readonly edges: readonly Edge[];
}

function nearTo(
  pointer: XY,
  lines: readonly CatchLine[],
  reachM: number,
  last: XY | undefined,
): Near {
  let [corner, middle, edge]: (XY | null)[] = [null, null, null];
  let [cornerM, middleM, edgeM] = [cornerReach, edgeReach, edgeReach].map((part) => part * reachM);
  const edges: Edge[] = [];
  const farM = nearReaches * reachM;
  for (const line of lines) {
    line.forEach((to, i) => {
      const off = apart(pointer, to);
      // A side from the last corner to itself is none.
      if (off <= cornerM && to !== last) [corner, cornerM] = [to, off];
      if (i === 0) return;
      const from = line[i - 1];
      const onEdge = nearestOnSegment(pointer, from, to);
      const offM = apart(pointer, onEdge);
      if (offM > farM) return;
      if (offM <= edgeM) [edge, edgeM] = [onEdge, offM];
      if (apart(from, to) < leastEdgeM) return;
      edges.push({ from, to, offM });
      const half: XY = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
      const halfM = apart(pointer, half);
      if (halfM <= middleM) [middle, middleM] = [half, halfM];
    });
  }
  edges.sort((a, b) => a.offM - b.offM);
  return { corner, middle, edge, edges };
}

/** A line that leads: endless, from a place on it in a direction. */
interface Lead {
  readonly kind: CatchKind;
  readonly from: XY;
  readonly towards: XY;
  /** Where the sign of it begins; the place itself where it leads from. */
  readonly sign: XY;
}

function guidesFrom(edges: readonly Edge[], { corners }: DrawnSoFar, pointer: XY): Lead[] {
  const leads: Lead[] = [];
  const last = corners.at(-1);
  const before = corners.at(-2);
  if (last !== undefined && before !== undefined && apart(before, last) > 0) {
    leads.push(lead('right-angle', last, beyond(last, before, last)));
    leads.push(lead('right-angle', last, square(last, before, last)));
  }
  if (last !== undefined && before !== undefined) {
    for (const corner of corners.slice(0, -1)) {
      leads.push(lead('level', corner, beyond(corner, before, last)));
      leads.push(lead('level', corner, square(corner, before, last)));
    }
  }
  for (const { from, to } of edges.slice(0, mostLeading)) {
    leads.push(lead('in-line', from, to, apart(pointer, from) < apart(pointer, to) ? from : to));
    if (last !== undefined) leads.push(lead('parallel', last, beyond(last, from, to)));
  }
  return leads;
}

function lead(kind: CatchKind, from: XY, towards: XY, sign = from): Lead {
  return { kind, from, towards, sign };
}

/** A place from `at` on in the direction from one place to another. */
function beyond(at: XY, from: XY, to: XY): XY {
  return [at[0] + to[0] - from[0], at[1] + to[1] - from[1]];
}

/** The same at a right angle to that direction. */
function square(at: XY, from: XY, to: XY): XY {
  return [at[0] + to[1] - from[1], at[1] - to[0] + from[0]];
}

/** The nearest place within reach where two leads cross, or a lead crosses an edge. */
function crossingNear(
  pointer: XY,
  leads: readonly Lead[],
  edges: readonly Edge[],
  reachM: number,
): Caught | null {
  const close = leads.filter((each) => offOf(pointer, each) <= reachM);
  let best: Caught | null = null;
  let bestM = reachM;
  const offer = (at: XY | null, kind: CatchKind, of: CatchKind[], guides: Guide[]): void => {
    if (at === null) return;
    const offM = apart(pointer, at);
    if (offM > bestM) return;
    bestM = offM;
    best = { at, kind, of, guides };
  };
  close.forEach((a, i) => {
    for (const b of close.slice(i + 1)) {
      const at = meetingOf(a.from, a.towards, b.from, b.towards);
      if (at === null) continue;
      offer(at, 'crossing', [a.kind, b.kind], [sign(a, at), sign(b, at)]);
    }
    for (const { from, to, offM } of edges) {
      if (offM > reachM) break;
      const at = meetingOf(a.from, a.towards, from, to);
      if (at === null || apart(at, nearestOnSegment(at, from, to)) > 1e-9) continue;
      offer(at, 'crossing', [a.kind, 'edge'], [sign(a, at)]);
    }
  });
  return best;
}

function bestGuide(pointer: XY, leads: readonly Lead[], reachM: number): Caught | null {
  let best: Caught | null = null;
  let bestM = reachM;
  for (const each of leads) {
    const { at } = footOn(each.from, each.towards, pointer);
    const offM = apart(pointer, at);
    // The first of those that agree has the better word.
    if (offM >= bestM - 1e-9) continue;
    bestM = offM;
    best = { at, kind: each.kind, of: [], guides: [sign(each, at)] };
  }
  return best;
}

function sign({ sign: from }: Lead, to: XY): Guide {
  return { from, to };
}

function offOf(pointer: XY, { from, towards }: Lead): number {
  return apart(pointer, footOn(from, towards, pointer).at);
}

function caught(kind: CatchKind, at: XY): Caught {
  return { at, kind, of: [], guides: [] };
}

function apart(a: XY, b: XY): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** The edge nearest to a place, from its nearer end; null where none is within reach. */
export function edgeNear(
  place: XY,
  lines: readonly CatchLine[],
  reachM: number,
): readonly [from: XY, to: XY] | null {
  const [edge] = nearTo(place, lines, reachM / edgeReach, undefined).edges;
  if (edge === undefined || edge.offM > reachM) return null;
  const { from, to } = edge;
  return apart(place, from) <= apart(place, to) ? [from, to] : [to, from];
}
