import { cellCentre, type Grid } from '../elevation/grid';
import { InputError } from '../errors';
import type { XY } from '../frame/frame';
import { contains, distanceM, type Ring } from '../frame/shapes';
import { nearestAlong } from '../frame/taped';
import { knownLevels } from '../levels/level-lines';
import { levelSurface, mean, type LevelSurface } from '../levels/level-surface';
import { fewestLevels, settledLevels, type LocalLevel } from '../levels/readings';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import { featuresOf, type Plan, type PlanFeature } from '../plan/schema';
import { heightAt } from './height-at';
import { PlaneSums } from './plane-sums';
import { cellsInside } from './rasterise';
import { RimDistance } from './rim-distance';

/** How levels around an outline agree with the elevation. */
interface LevelTie {
  /** Levels outside the outline, near it, or on its edge, where there is elevation. */
  readonly count: number;
  /** Levels less elevation there, on average, metres above the datum of the source; null where there is none. */
  readonly offsetM: number | null;
  /** Standard deviation about that; null of fewer than two. */
  readonly spreadM: number | null;
  /** How far such a level may be off, metres. */
  readonly accuracyM: number;
  /** The levels have a zero of their own, so that the offset is no error. */
  readonly isOwnZero: boolean;
}

/** A place of the plan at which levels stand for the elevation. */
export interface Relevelled {
  readonly id: string;
  readonly tie: LevelTie;
  /** Levels inside the outline. */
  readonly levels: number;
  /** Why the elevation stays; null where the levels replace it. */
  readonly fault: string | null;
  /** Cells that get other heights; none where the elevation stays. */
  readonly cells: Int32Array<ArrayBuffer>;
  /** Their heights, metres above the datum of the source. */
  readonly heightsM: Float64Array<ArrayBuffer>;
  /** How much of each is by the levels, from 0 at the outline to 1 within the outermost levels. */
  readonly shares: Float32Array<ArrayBuffer>;
  /** How far the levels may be off between themselves, metres. */
  readonly errorM: number;
  /** Ids of the levels that replace or tie: none of them corrects the elevation around itself as well. */
  readonly used: readonly string[];
}

/** A level within so much of the outline lies on it; one farther outside than the second ties nothing, metres. Our choices, no source. */
const onEdgeM = 0.5;
const tiesWithinM = 15;
/** However near to the outline the levels reach, they take over from the elevation over so much, metres, or so many cells. Our choices. */
const leastBlendM = 1;
const leastBlendCells = 2;
/** The edge is taken at no more places than this. Our choice, no source. */
const mostOnEdge = 240;

const kept = new WeakMap<
  Grid,
  { readonly made: readonly PlanFeature[]; readonly all: readonly Relevelled[] }
>();

/**
 * Where a plan says so, its levels replace the elevation inside an outline: within the outermost of them the ground is
 * theirs alone, as if there were no file; from there to the outline it passes over to the heights of the elevation.
 *
 * Both are taken about one plane, and what they differ by from it passes from one to the other: by distance between the
 * outermost levels and the outline, along which what the elevation has is weighted by the inverse fourth power of the
 * distance (Shepard 1968, from memory). On a plane it is exact, and nothing overshoots on the way, so that no dam or
 * pool comes of joining the two.
 *
 * The levels are set on the elevation by what both differ by, on average, at levels outside and on the outline, for
 * there the ground has not changed. Whether that holds is for others to say (`level-ties.ts`).
 *
 * @param elevation - heights as read; not modified.
 * @returns one for each outline. Where the ground is made from levels alone, none.
 * Cost: see `thinPlate`, and the cells inside times the places on the edge; O(1) for the same features as the last time.
 */
export function relevelled(elevation: Grid, plan: LocalPlan): readonly Relevelled[] {
  const outlines = plan.of['relevelled-ground'];
  if (outlines.length === 0 || plan.plan.lotfall.elevation?.of_levels === true) return [];
  const made = plan.plan.features.filter(isOfLevels);
  const last = kept.get(elevation);
  if (last?.made.length === made.length && last.made.every((each, i) => each === made[i])) {
    return last.all;
  }
  const all = outlines.map((outline) => joined(elevation, plan, outline));
  kept.set(elevation, { made, all });
  return all;
}

/**
 * Gives the cells their heights. Where others have corrected the elevation meanwhile, what that moves it by at the outline
 * moves the levels too.
 *
 * @param grid - `grid.z` is changed in place.
 * @param read - the elevation as read, from which the levels were joined.
 * @param before - heights of the cells before any correction: those as read, or with an error added (`grid.shaken`), of
 *   which the levels then have as much as they may be off.
 */
export function putRelevelled(
  { z, datumM, shaken }: Grid,
  read: Grid,
  { cells, heightsM, shares, errorM }: Relevelled,
  before: Float32Array,
): void {
  const orZero = (value: number): number => (Number.isNaN(value) ? 0 : value);
  let moved = 0;
  let weights = 0;
  cells.forEach((cell, i) => {
    moved += (1 - shares[i]) * orZero(z[cell] - before[i]);
    weights += 1 - shares[i];
  });
  const edgeM = weights === 0 ? 0 : moved / weights;
  const ofLevels = shaken === undefined ? 1 : errorM / shaken.rmseM;
  cells.forEach((cell, i) => {
    const share = shares[i];
    const shakenM =
      shaken === undefined ? 0 : orZero(before[i] + datumM - (read.z[cell] + read.datumM));
    const correctedM = orZero(z[cell] - before[i]);
    z[cell] =
      heightsM[i] -
      datumM +
      (1 + share * (ofLevels - 1)) * shakenM +
      (1 - share) * correctedM +
      share * edgeM;
  });
}

const ofLevels: ReadonlySet<string> = new Set([
  'relevelled-ground',
  'spot-height',
  'puddle-edge',
  'level-line',
  'break-line',
  'wall',
  'kerb',
]);

function isOfLevels({ properties }: PlanFeature): boolean {
  return ofLevels.has(properties.kind);
}

function joined(
  elevation: Grid,
  plan: LocalPlan,
  { id, shape }: LocalFeature<'relevelled-ground'>,
): Relevelled {
  const none: Relevelled = {
    id,
    tie: { count: 0, offsetM: null, spreadM: null, accuracyM: 0, isOwnZero: false },
    levels: 0,
    fault: null,
    cells: new Int32Array(),
    heightsM: new Float64Array(),
    shares: new Float32Array(),
    errorM: 0,
    used: [],
  };
  try {
    const { inside, around } = sorted(plan, shape.rings);
    const tie = tieOf(elevation, plan, around);
    const found = { ...none, tie, levels: inside.length };
    const within = planWithin(plan, shape.rings);
    const known = inside.length + knownLevels(within);
    if (known < fewestLevels) {
      const fault = `it has ${known === 0 ? 'no levels' : known === 1 ? 'one level' : `${known} levels`} inside, and three are the fewest that make a surface: the elevation’s heights stay; read more levels inside it`;
      return { ...found, fault };
    }
    if (tie.isOwnZero && tie.offsetM === null) {
      const fault =
        'its levels have a zero of their own, and none of them lies outside or on the outline, where the ground is as it was: the elevation’s heights stay; read three or more there';
      return { ...found, fault };
    }
    const surface = levelSurface(within, plan.frame, inside, 'the plan');
    return {
      ...found,
      ...heightsOf(elevation, shape.rings, surface, tie.offsetM ?? 0),
      errorM: surface.rmseM,
      used: [...inside, ...around].map((level) => level.id),
    };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { ...none, fault: `${error.message}: the elevation’s heights stay` };
  }
}

/** The levels inside an outline, and those on it or near it outside; one with an influence of its own corrects instead. */
function sorted(
  { plan, frame }: LocalPlan,
  rings: readonly Ring[],
): { inside: LocalLevel[]; around: LocalLevel[] } {
  const correcting = new Set(
    featuresOf(plan, 'spot-height')
      .filter(({ properties }) => properties.influence_m !== undefined)
      .map(({ id }) => id),
  );
  const inside: LocalLevel[] = [];
  const around: LocalLevel[] = [];
  const edge = [...rings[0], rings[0][0]];
  for (const reading of settledLevels(plan, 'the plan').readings) {
    if (correcting.has(reading.id)) continue;
    const level = { ...reading, at: frame.toLocal(reading.at) };
    const { awayM } = nearestAlong(edge, level.at);
    if (awayM > onEdgeM && contains(rings, level.at)) inside.push(level);
    else if (awayM <= tiesWithinM) around.push(level);
  }
  return { inside, around };
}

/** The plan with those of its lines and puddles alone that lie inside an outline. */
function planWithin({ plan, frame }: LocalPlan, rings: readonly Ring[]): Plan {
  const isWithin = (feature: PlanFeature): boolean => {
    const { type, coordinates } = feature.geometry;
    const places =
      type === 'Point' ? [coordinates] : type === 'LineString' ? coordinates : coordinates[0];
    return places.every((at) => contains(rings, frame.toLocal(at)));
  };
  return { ...plan, features: plan.features.filter((each) => isOfLevels(each) && isWithin(each)) };
}

function tieOf(elevation: Grid, { plan }: LocalPlan, around: readonly LocalLevel[]): LevelTie {
  const off = around
    .map(({ at, heightM }) => heightM - elevation.datumM - heightAt(elevation, at))
    .filter((value) => !Number.isNaN(value));
  const offsetM = off.length === 0 ? null : mean(off);
  return {
    count: off.length,
    offsetM,
    spreadM:
      offsetM === null || off.length < 2
        ? null
        : Math.sqrt(off.reduce((sum, value) => sum + (value - offsetM) ** 2, 0) / (off.length - 1)),
    accuracyM:
      around.length === 0 ? 0 : Math.sqrt(mean(around.map((level) => level.accuracyM ** 2))),
    isOwnZero: featuresOf(plan, 'spot-height').every(
      ({ properties }) => properties.elevation_m === undefined || properties.state === 'gone',
    ),
  };
}

/** A plane about which levels and elevation are taken, and what the elevation differs by from it at places on the edge. */
interface Edge {
  readonly planeM: (x: number, y: number) => number;
  readonly places: readonly { readonly at: XY; readonly offM: number }[];
}

function heightsOf(
  elevation: Grid,
  rings: readonly Ring[],
  { surface, hull }: LevelSurface,
  offsetM: number,
): Pick<Relevelled, 'cells' | 'heightsM' | 'shares'> {
  const cells = cellsInside(elevation, rings);
  const heightsM = new Float64Array(cells.length);
  const shares = new Float32Array(cells.length);
  const levelM = (x: number, y: number): number => surface.at(x, y) - offsetM;
  const edge = edgeOf(elevation, rings[0], hull, levelM);
  const outline = new RimDistance(rings[0]);
  const outermost = new RimDistance(hull);
  const blendM = Math.max(leastBlendM, leastBlendCells * elevation.cellM);
  cells.forEach((cell, i) => {
    const [x, y] = cellCentre(elevation, cell);
    outline.look(x, y);
    outermost.look(x, y);
    const beyondM = outermost.isInside ? 0 : outermost.awayM;
    const [nearX, nearY] = outermost.isInside ? [x, y] : [outermost.nearX, outermost.nearY];
    const share = Math.min(
      outline.awayM / (outline.awayM + beyondM),
      smooth(outline.awayM / blendM),
    );
    const ofLevels = levelM(nearX, nearY) - edge.planeM(nearX, nearY);
    const ofElevation = edge.places.length === 0 ? ofLevels : weighted(edge.places, [x, y]);
    heightsM[i] = edge.planeM(x, y) + share * ofLevels + (1 - share) * ofElevation;
    shares[i] = share;
  });
  return { cells, heightsM, shares };
}

function edgeOf(
  elevation: Grid,
  ring: Ring,
  hull: Ring,
  levelM: (x: number, y: number) => number,
): Edge {
  const everyM = Math.max(elevation.cellM, onEdgeM, roundM(ring) / mostOnEdge);
  const found = ring
    .flatMap((from, i) => between(from, ring[(i + 1) % ring.length], everyM))
    .map((at) => ({ at, heightM: heightAt(elevation, at) + elevation.datumM }))
    .filter(({ heightM }) => !Number.isNaN(heightM));
  const middle = hull[0];
  const sums = new PlaneSums(...middle);
  // The elevation's heights lie on the datum's side of it, so that no digits are lost.
  for (const { at, heightM } of found) sums.add(...at, heightM - elevation.datumM);
  for (const [x, y] of hull) sums.add(x, y, levelM(x, y) - elevation.datumM);
  const plane = sums.fit();
  const planeM = (x: number, y: number): number =>
    elevation.datumM +
    (plane === null
      ? 0
      : plane.middleM +
        plane.slopeRatio * (plane.uphill[0] * (x - middle[0]) + plane.uphill[1] * (y - middle[1])));
  return {
    planeM,
    places: found.map(({ at, heightM }) => ({ at, offM: heightM - planeM(...at) })),
  };
}

function roundM(ring: Ring): number {
  return ring.reduce((sum, from, i) => sum + distanceM(from, ring[(i + 1) % ring.length]), 0);
}

/** Places along a side, its end left out. */
function between(from: XY, to: XY, everyM: number): XY[] {
  const count = Math.max(1, Math.round(distanceM(from, to) / everyM));
  return Array.from({ length: count }, (_, i): XY => {
    const share = i / count;
    return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
  });
}

/** Nearer than this all weight lies with one place, metres squared. */
const leastSquared = 1e-6;

function weighted(places: Edge['places'], [x, y]: XY): number {
  let sum = 0;
  let weights = 0;
  for (const { at, offM } of places) {
    const squared = Math.max(leastSquared, (at[0] - x) ** 2 + (at[1] - y) ** 2);
    const weight = 1 / (squared * squared);
    sum += weight * offM;
    weights += weight;
  }
  return sum / weights;
}

/** From 0 to 1 with level ends. */
function smooth(share: number): number {
  const t = Math.min(1, share);
  return t * t * (3 - 2 * t);
}
