import type { Frame, XY } from '../frame/frame';
import { distanceM, lengthM, nearestOnSegment } from '../frame/shapes';
import type { Plan, PlanFeature } from '../plan/schema';
import type { LocalLevel } from './readings';
import type { Jump, Sample } from './thin-plate';

/** A level so near to a line was read along it, metres. Our choice, no source. */
const alongM = 0.5;
/** Between two levels of a line the ground is given every so far, metres, and no nearer to them. */
const everyM = 0.5;
/** A level nearer than this to a line where the ground jumps is on neither side of it, metres. */
const onLineM = 0.02;
/** A line that ends no farther than this within the levels goes through all of the ground, metres. Our choice. */
const throughM = 1;

interface OnLine {
  readonly atM: number;
  /** Left of the line is positive. */
  readonly sideM: number;
  readonly heightM: number;
}

/** What break lines make of the ground. */
export interface Breaks {
  /** Ground along them, straight between the levels read along one. */
  readonly samples: readonly Sample[];
  /** Where it jumps. */
  readonly jumps: readonly Jump[];
}

/**
 * Ground along break lines: straight between the levels read along one. A line at which the ground jumps (a wall, a kerb, a
 * break line that says so) has a line of levels to its left and one to its right, each where they were read. A line with
 * fewer than two levels adds nothing.
 */
export function breakLines(
  plan: Plan,
  frame: Frame,
  levels: readonly LocalLevel[],
  isWithin: (at: XY) => boolean,
): Breaks {
  const all = plan.features.map((feature): Breaks => {
    const how = breaks(feature);
    if (how === null || feature.geometry.type !== 'LineString') return { samples: [], jumps: [] };
    const line = feature.geometry.coordinates.map((at) => frame.toLocal(at));
    const on = levels.flatMap((level) => onLine(line, level));
    const sides =
      how === 'bends'
        ? [on.map((each) => ({ ...each, sideM: 0 }))]
        : [on.filter(({ sideM }) => sideM > onLineM), on.filter(({ sideM }) => sideM < -onLineM)];
    return {
      samples: sides.flatMap((side) => between(line, side)),
      jumps: how === 'jumps' ? jumpsOf(line, sides, isWithin) : [],
    };
  });
  return {
    samples: all.flatMap(({ samples }) => samples),
    jumps: all.flatMap(({ jumps }) => jumps),
  };
}

/** Pieces that a line is looked at in: enough for a jump that grows along it. Our choice. */
const pieces = 8;

/**
 * The shapes of a jump along a line, as far as levels tell it: with one to either side it is the same all along, with two
 * and more it may grow from end to end. The shape is the angle that the line is seen under, a whole turn being 1: it jumps by
 * 1 across the line and is smooth elsewhere (the potential of a double layer; from memory). A line that goes through all of
 * the ground parts it in two.
 */
function jumpsOf(
  line: readonly XY[],
  [left, right]: readonly (readonly OnLine[])[],
  isWithin: (at: XY) => boolean,
): Jump[] {
  if (left.length === 0 || right.length === 0) return [];
  const wholeM = lengthM(line);
  const isThrough = [-throughM, wholeM + throughM].every((at) => !isWithin(beside(line, at, 0)));
  if (isThrough) return [(x, y) => (leftOf(line, [x, y]) ? 0.5 : -0.5)];
  const parts = Array.from({ length: pieces }, (_, k) => {
    const at = (share: number): XY => beside(line, share * wholeM, 0);
    return { a: at(k / pieces), b: at((k + 1) / pieces), middle: (k + 0.5) / pieces };
  });
  const shape =
    (weight: (along: number) => number): Jump =>
    (x, y) =>
      parts.reduce((sum, { a, b, middle }) => sum + weight(middle) * seenUnder(a, b, x, y), 0);
  return left.length > 1 && right.length > 1
    ? [shape((along) => 1 - along), shape((along) => along)]
    : [shape(() => 1)];
}

/** Whether a place lies to the left of a line, led on straight at both ends. */
function leftOf(line: readonly XY[], at: XY): boolean {
  let best = Infinity;
  let isLeft = false;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const away = distanceM(at, nearestOnSegment(at, a, b));
    const left = (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0]) > 0;
    if (away < best) [best, isLeft] = [away, left];
  }
  return isLeft;
}

/** The angle that a stretch is seen under from a place, in turns, positive from its left. */
function seenUnder(a: XY, b: XY, x: number, y: number): number {
  const [ax, ay, bx, by] = [a[0] - x, a[1] - y, b[0] - x, b[1] - y];
  return Math.atan2(ax * by - ay * bx, ax * bx + ay * by) / (2 * Math.PI);
}

/** Whether the ground made from levels bends or jumps at a feature; null where it does neither. */
export function breaks({ properties }: PlanFeature): 'bends' | 'jumps' | null {
  if (properties.state === 'gone') return null;
  switch (properties.kind) {
    case 'break-line':
      return properties.step === true ? 'jumps' : 'bends';
    case 'wall':
    case 'kerb':
      return 'jumps';
    case 'swale':
    case 'berm':
      // One that is still to be dug or heaped is no ground yet.
      return properties.in_elevation === true ? 'bends' : null;
    default:
      return null;
  }
}

function onLine(line: readonly XY[], { at, heightM }: LocalLevel): OnLine[] {
  let best: OnLine | null = null;
  let bestM = alongM;
  let doneM = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const on = nearestOnSegment(at, a, b);
    const away = distanceM(at, on);
    const left = (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0]);
    if (away <= bestM) {
      bestM = away;
      best = { atM: doneM + distanceM(a, on), sideM: left < 0 ? -away : away, heightM };
    }
    doneM += distanceM(a, b);
  }
  return best === null ? [] : [best];
}

/** The ground between levels along a line, as far beside it as they lie. */
function between(line: readonly XY[], levels: readonly OnLine[]): Sample[] {
  const sorted = levels.toSorted((a, b) => a.atM - b.atM);
  return sorted.slice(1).flatMap((to, i): Sample[] => {
    const from = sorted[i];
    const runM = to.atM - from.atM;
    const steps = Math.floor(runM / everyM);
    return Array.from({ length: Math.max(0, steps - 1) }, (_, k): Sample => {
      const t = (k + 1) / steps;
      const mix = (a: number, b: number): number => a + t * (b - a);
      return {
        at: beside(line, mix(from.atM, to.atM), mix(from.sideM, to.sideM)),
        valueM: mix(from.heightM, to.heightM),
        line: null,
      };
    });
  });
}

/** The place so far along a line and so far to its left. */
function beside(line: readonly XY[], atM: number, leftM: number): XY {
  let leftOver = atM;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const sideM = distanceM(a, b);
    if (leftOver > sideM && i < line.length - 1) {
      leftOver -= sideM;
      continue;
    }
    const [ux, uy] = sideM === 0 ? [1, 0] : [(b[0] - a[0]) / sideM, (b[1] - a[1]) / sideM];
    return [a[0] + ux * leftOver - uy * leftM, a[1] + uy * leftOver + ux * leftM];
  }
  return line[0];
}
