import type { XY } from '../../frame/frame';
import { centroid, contains, distanceM, segmentCrossing, type Ring } from '../../frame/shapes';
import { featureName } from '../../plan/feature-name';
import type { LocalPlan } from '../../plan/local-plan';
import {
  crossingDeg,
  isGoodAngle,
  pointErrorM,
  toBaseLine,
  usualTapeErrorM,
} from './trilateration';

/** A place that does not move and that anybody finds again. */
export interface FixedCorner {
  readonly at: XY;
  /** Where it is, in words. */
  readonly name: string;
  readonly kind: 'building' | 'lot';
}

/** Two corners to tape from. */
export interface CornerPair {
  readonly a: FixedCorner;
  readonly b: FixedCorner;
  /** Points of which the tapes cross at a bad angle. */
  readonly badAngles: number;
  /** Points that cannot be taped straight from both, for a building in the way. */
  readonly hidden: number;
}

/** Tapes in a shed are 30 m long (100 ft). Common practice, no source. */
const tapeM = 30;
/** Corners nearer together make a poor base, metres. Common practice, no source. */
const leastBaseM = 2;
/** Fixed corners looked at: those nearest to the garden. */
const mostCorners = 24;

/** The corners of the own lot and of buildings on it, nearest first; of all buildings where no lot is one's own. */
export function fixedCorners(plan: LocalPlan, near: XY): FixedCorner[] {
  const own = plan.of.lot.filter(({ feature }) => feature.properties.own);
  const isHome = (ring: Ring): boolean =>
    own.length === 0 || own.some(({ shape }) => contains(shape.rings, centroid([ring])));
  const cornersOf = (ring: Ring, name: string, kind: FixedCorner['kind']): FixedCorner[] =>
    ring.map((at) => ({ at, kind, name: `${cornerWord(ring, at)} corner of ${name}` }));
  const all = [
    ...plan.of.building
      .filter(({ shape }) => isHome(shape.rings[0]))
      .flatMap(({ shape, feature }) => cornersOf(shape.rings[0], featureName(feature), 'building')),
    ...own.flatMap(({ shape }) => cornersOf(shape.rings[0], 'the lot', 'lot')),
  ];
  return all.sort((x, y) => distanceM(x.at, near) - distanceM(y.at, near)).slice(0, mostCorners);
}

/** Which corner of an outline it is, by the compass. */
function cornerWord(ring: Ring, at: XY): string {
  const [x, y] = [0, 1].map(
    (axis) => ring.reduce((sum, corner) => sum + corner[axis], 0) / ring.length,
  );
  const [dx, dy] = [at[0] - x, at[1] - y];
  const words = [dy > 0 ? 'north' : 'south', dx > 0 ? 'east' : 'west'];
  const steep = Math.abs(dy) / (Math.abs(dx) + 1e-9);
  return steep > 2.4 ? words[0] : steep < 0.42 ? words[1] : words.join('-');
}

/**
 * The pair of fixed corners from which all points are taped best: fewest hidden behind buildings, then fewest angles under 30
 * or over 150 degrees, then the least error of the worst point with short tapes and walls rather than lot corners. All points lie on one side of the line between the two, so that
 * nobody sets a stake on the wrong one.
 *
 * @returns `null` where no two corners are within reach.
 * Cost: pairs of corners times points times sides of buildings.
 */
export function bestPair(
  plan: LocalPlan,
  corners: readonly FixedCorner[],
  points: readonly XY[],
): CornerPair | null {
  let best: { pair: CornerPair; score: number } | null = null;
  const walls = plan.of.building.map(({ shape }) => shape.rings[0]);
  const hiddenFrom = corners.map(({ at }) => points.map((point) => isHidden(at, point, walls)));
  for (let i = 0; i < corners.length; i++) {
    for (let j = i + 1; j < corners.length; j++) {
      const [a, b] = [corners[i], corners[j]];
      if (!isUsable(a, b, points)) continue;
      const hidden = points.filter((_, k) => hiddenFrom[i][k] || hiddenFrom[j][k]).length;
      const badAngles = points.filter((at) => !isGoodAngle(crossingDeg(at, a.at, b.at))).length;
      const worstM = Math.max(
        ...points.map((at) => Math.min(10, pointErrorM(at, a.at, b.at, usualTapeErrorM))),
      );
      // A wall stands; a lot corner has to be found first. Long tapes sag.
      const looseness = [a, b].filter(({ kind }) => kind === 'lot').length;
      const longestM = Math.max(
        ...points.flatMap((at) => [distanceM(a.at, at), distanceM(b.at, at)]),
      );
      const score =
        hidden * 1e4 + badAngles * 100 + 100 * worstM + 0.1 * longestM + 1.5 * looseness;
      if (best === null || score < best.score) best = { pair: { a, b, badAngles, hidden }, score };
    }
  }
  return best?.pair ?? null;
}

function isUsable(a: FixedCorner, b: FixedCorner, points: readonly XY[]): boolean {
  if (distanceM(a.at, b.at) < leastBaseM) return false;
  const sides = points.map((at) => Math.sign(toBaseLine(a.at, b.at, at).outM));
  if (sides.some((side) => side !== sides[0])) return false;
  return points.every((at) => distanceM(a.at, at) <= tapeM && distanceM(b.at, at) <= tapeM);
}

/** Whether a building stands between two places; one that the tape begins at does where the tape runs through it. */
function isHidden(from: XY, to: XY, walls: readonly Ring[]): boolean {
  const lengthM = distanceM(from, to);
  if (lengthM === 0) return false;
  const step = 0.02 / lengthM;
  // A hair from the corner itself, which lies on two walls.
  const start: XY = [from[0] + step * (to[0] - from[0]), from[1] + step * (to[1] - from[1])];
  return walls.some((ring) =>
    ring.some(
      (corner, i) => segmentCrossing(start, to, corner, ring[(i + 1) % ring.length]) !== undefined,
    ),
  );
}
