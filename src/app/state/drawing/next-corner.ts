import {
  catchAt,
  edgeNear,
  type Caught,
  type CatchKind,
  type CatchLine,
} from '../../../../lib/drawing/catches';
import { heldSquare, outOf, rectangleOn } from '../../../../lib/drawing/square';
import { alongAndOut, tapesFault, twoTapes } from '../../../../lib/drawing/by-tape';
import { directionOf, footOn, onwards } from '../../../../lib/drawing/turns';
import type { XY } from '../../../../lib/frame/frame';
import type { UnitSystem } from '../../../../lib/units/units';
import { caughtWords, kindWords } from './caught-words';

/** How corners are measured: by eye and typed figures, as a rectangle, by two tapes, or along a wall and square out. */
export type Way = 'free' | 'rectangle' | 'tapes' | 'along';

/** Figures that are typed; null where none is. */
export interface TypedFigures {
  readonly lengthM: number | null;
  readonly turnDeg: number | null;
  /** Clockwise from true north. */
  readonly bearingDeg: number | null;
  /** The two tapes, or along the wall and out from it. */
  readonly firstM: number | null;
  readonly secondM: number | null;
}

/** All that the next corner hangs on, metres in the local frame. */
export interface Sighted {
  readonly corners: readonly XY[];
  /** The place under the pointer. */
  readonly pointer: XY | null;
  readonly reachM: number;
  readonly lines: readonly CatchLine[];
  readonly way: Way;
  readonly isSquare: boolean;
  readonly typed: TypedFigures;
  /** Where true north lies, degrees clockwise from the frame's. */
  readonly northDeg: number;
  /** The places that tapes begin at; where the wall begins and leads to. */
  readonly known: readonly XY[];
  /** The other crossing of two tapes, the other side of the wall. */
  readonly isOther: boolean;
  readonly units: UnitSystem;
}

export interface NextCorner {
  readonly at: XY;
  /** Corners that come with it: the fourth of a rectangle. */
  readonly also: readonly XY[];
  /** How it was found, in words. */
  readonly how: string;
  readonly caught: Caught | null;
  /** Where two tapes cross besides. */
  readonly other: XY | null;
}

/** Where the next corner would be set; a sentence where typed figures give none; null where nothing tells. */
export function nextCorner(sighted: Sighted): NextCorner | string | null {
  const { way, corners, known } = sighted;
  if (way === 'tapes' && known.length === 2) return byTapes(sighted);
  if (way === 'along' && known.length === 2) return alongWall(sighted);
  if (way === 'rectangle' && corners.length === 2) return rectangleCorner(sighted);
  return freeCorner(sighted);
}

/** What a press chooses as known: the place that is caught, or for a wall its edge from the nearer end. */
export function knownAt(
  { way, reachM, lines, corners, known }: Sighted,
  pointer: XY,
): readonly XY[] {
  if (way === 'along') return edgeNear(pointer, [...lines, corners], 2 * reachM) ?? known;
  return [
    ...known,
    catchAt(pointer, lines, { corners: corners.slice(0, -1) }, reachM)?.at ?? pointer,
  ];
}

function byTapes({ known, typed, units, isOther }: Sighted): NextCorner | string | null {
  const { firstM, secondM } = typed;
  if (firstM === null || secondM === null) return null;
  const met = twoTapes({ from: known[0], lengthM: firstM }, { from: known[1], lengthM: secondM });
  if (!met.meet) return tapesFault(met, units);
  const [at, other] = isOther ? [...met.crossings].reverse() : met.crossings;
  return { at, also: [], how: 'by two tapes', caught: null, other };
}

function alongWall({ known, typed, isOther, pointer }: Sighted): NextCorner | null {
  const [from, to] = known;
  const foot = pointer === null ? null : footOn(from, to, pointer);
  const alongM = typed.firstM ?? (foot === null ? null : toCm(foot.alongM));
  if (alongM === null) return null;
  const side = isOther ? -1 : 1;
  const led = pointer === null ? 0 : toCm(outOf(from, to, pointer));
  const outM = typed.secondM === null ? led : side * typed.secondM;
  return {
    at: alongAndOut(from, to, alongM, outM),
    also: [],
    how: 'along a wall and square out',
    caught: null,
    other: null,
  };
}

function rectangleCorner({ corners, pointer, typed, lines, reachM }: Sighted): NextCorner | null {
  const [from, to] = corners;
  const caught = pointer === null ? null : catchAt(pointer, lines, { corners: [] }, reachM);
  const led = pointer === null ? 0 : outOf(from, to, caught?.at ?? pointer);
  if (typed.lengthM === null && Math.abs(led) < leastM) return null;
  const side = led < 0 ? -1 : 1;
  const widthM =
    typed.lengthM === null ? (caught === null ? toCm(led) : led) : side * typed.lengthM;
  const [, , at, last] = rectangleOn(from, to, widthM);
  const words = caught === null ? 'square' : `square, ${caughtWords(caught)}`;
  return {
    at,
    also: [last],
    how: typed.lengthM === null ? words : 'typed, square',
    caught: typed.lengthM === null ? caught : null,
    other: null,
  };
}

function freeCorner(sighted: Sighted): NextCorner | null {
  const { corners, pointer, typed, isSquare } = sighted;
  const last = corners.at(-1);
  const before = corners.at(-2);
  const led = pointer === null ? null : ledPlace(sighted, pointer);
  if (last === undefined) return led;
  const towards = typedDirection(sighted, last, before);
  const heldTo =
    isSquare && before !== undefined && led !== null ? heldSquare(before, last, led.at) : null;
  if (towards === null && typed.lengthM === null) {
    if (led === null || heldTo === null) return led;
    return { ...led, at: heldTo, how: 'square held', caught: null };
  }
  const { lengthM } = typed;
  if (towards !== null) {
    const alongM =
      led === null ? null : toCm(footOn(last, onwards(last, towards, 1), led.at).alongM);
    const goesM = lengthM ?? alongM;
    if (goesM === null || goesM < leastM) return null;
    return plain(onwards(last, towards, goesM), 'typed');
  }
  const aim = heldTo ?? led?.at ?? (before === undefined ? null : straightOn(before, last));
  if (aim === null || lengthM === null || Math.hypot(aim[0] - last[0], aim[1] - last[1]) < 1e-6) {
    return null;
  }
  const at = onwards(last, directionOf(last, aim), lengthM);
  if (heldTo !== null) return plain(at, 'typed, square held');
  const caught = led?.caught ?? null;
  // What tells the direction still holds; how far off it lay does not.
  const leads =
    caught === null ? undefined : [caught.kind, ...caught.of].find((kind) => isWay.has(kind));
  if (caught === null || leads === undefined) return plain(at, 'typed');
  return {
    ...plain(at, `typed, ${kindWords[leads]}`),
    caught: { ...caught, kind: leads, at, of: [] },
  };
}

/** What catches by the direction of the side. */
const isWay: ReadonlySet<CatchKind> = new Set(['right-angle', 'parallel', 'square-on']);

/** A side shorter than this is none. */
const leastM = 0.01;

/** The direction that typed figures give, degrees in the frame. */
function typedDirection(
  { typed, northDeg }: Sighted,
  last: XY,
  before: XY | undefined,
): number | null {
  if (typed.bearingDeg !== null) return typed.bearingDeg + northDeg;
  if (typed.turnDeg === null || before === undefined) return null;
  return directionOf(before, last) + typed.turnDeg;
}

function ledPlace({ corners, lines, reachM }: Sighted, pointer: XY): NextCorner {
  const caught = catchAt(pointer, lines, { corners }, reachM);
  if (caught !== null) return { ...plain(caught.at, caughtWords(caught)), caught };
  return plain([toCm(pointer[0]), toCm(pointer[1])], 'by eye');
}

function straightOn(before: XY, last: XY): XY {
  return [2 * last[0] - before[0], 2 * last[1] - before[1]];
}

function plain(at: XY, how: string): NextCorner {
  return { at, also: [], how, caught: null, other: null };
}

function toCm(metres: number): number {
  return Math.round(metres * 100) / 100;
}
