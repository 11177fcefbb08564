import type { MultiPolygon } from 'geojson';
import type { OverflowWay } from '../../drainage/answer/overflow-course';
import type { LngLat, XY } from '../../frame/frame';
import { contains, distanceM, lengthM, nearest, type Rings } from '../../frame/shapes';
import { homeLot } from '../../plan/home-lot';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { featureName } from '../../plan/feature-name';

/** What overflow comes to. */
export type OverflowReaches =
  | 'street'
  | 'swale'
  | 'watercourse'
  | 'storm-sewer'
  | 'wetland'
  | 'basin'
  | 'building'
  | 'foundation'
  | 'neighbour'
  | 'septic-field'
  | 'septic-tank'
  | 'well'
  | 'low-spot'
  | 'edge-of-data';

/** Where overflow ends up, and whether it may. */
export interface OverflowVerdict {
  readonly reaches: OverflowReaches;
  /** Id of the feature, conduit or low spot that it reaches; `null` for the street and the edge of the data. */
  readonly feature: string | null;
  readonly result: 'pass' | 'fail' | 'check';
  /** One sentence for the user. */
  readonly why: string;
  /** Where that is, and how far along the path; `null` without a path. */
  readonly at: LngLat | null;
  readonly alongM: number;
}

/** A low spot that the path may cross. */
export interface CrossedLowSpot {
  readonly id: string;
  readonly outline: MultiPolygon;
}

/** Overflow keeps this far from a foundation, a tank and a well: about 10 ft, as most rule sets ask of a basin. A choice. */
export const overflowFromFoundationM = 3;
/** A path this close to a line or a point has reached it: what a lidar's cells and a drawn line are good for. A choice. */
const reachedM = 0.75;
const everyM = 0.25;

/**
 * Follows overflow down one way and tells what it reaches first.
 *
 * Street, swale, watercourse and storm sewer are where it may go; a foundation, a neighbour's lot, a septic part are
 * where it may not. A low spot on the way only holds it up: it is told, and the way is followed on. Below the ground it
 * reaches nothing until the pipe lets it out.
 *
 * @param way - from the notch over the finished ground and through pipes (`overflowCourse`).
 * @param basinId - whose overflow it is; its own outline does not count.
 * @param lowSpots - of the ground with the basin in it; its own water is not one of them.
 */
export function overflowVerdict(
  { legs, ends }: Pick<OverflowWay, 'legs' | 'ends'>,
  plan: LocalPlan,
  basinId: string,
  lowSpots: readonly CrossedLowSpot[] = [],
): OverflowVerdict {
  const spots = lowSpots
    .map(({ id, outline }) => ({ id, polygons: localPolygons(outline, plan) }))
    .filter(({ polygons }) => !holdsBasin(polygons, plan, basinId));
  const rim = plan.of.basin.find(({ id }) => id === basinId)?.shape.rings[0];
  const home = rim === undefined ? undefined : homeLot(plan, rim);
  const own = plan.of.lot.filter((lot) => lot.feature.properties.own || lot === home);
  let crossed: OverflowVerdict | null = null;
  let wasOnLot = false;
  let alongM = 0;
  for (let leg = 0; leg < legs.length; leg++) {
    const { by, points } = legs[leg];
    if (by === 'pipe') {
      alongM += lengthM(points);
      continue;
    }
    // a low spot that a drain empties does not hold it up
    const drainedAt = leg + 1 < legs.length ? points.at(-1) : undefined;
    const places = densified(points);
    for (let i = 0; i < places.length; i++) {
      const at = places[i];
      if (i > 0) alongM += distanceM(places[i - 1], at);
      const found = reachedAt(at, plan, basinId, own, wasOnLot);
      if (found !== null) {
        const verdict = { ...found, at: plan.frame.toLngLat(at), alongM };
        return crossed === null ? verdict : afterLowSpot(crossed, verdict);
      }
      wasOnLot ||= isIn(own, at);
      if (crossed === null) {
        const spot = spots.find(
          ({ polygons }) =>
            isInAny(polygons, at) && (drainedAt === undefined || !isInAny(polygons, drainedAt)),
        );
        if (spot !== undefined) {
          crossed = {
            reaches: 'low-spot',
            feature: spot.id,
            result: 'check',
            why: 'Overflow, when full, gathers in a low spot of the own lot and stands there until that spills.',
            at: plan.frame.toLngLat(at),
            alongM,
          };
        }
      }
    }
  }
  const last = legs.at(-1)?.points.at(-1);
  const place = { at: last === undefined ? null : plan.frame.toLngLat(last), alongM };
  const end: OverflowVerdict =
    ends === 'storm-sewer'
      ? {
          ...pass(
            'storm-sewer',
            legs.at(-1)?.drain ?? null,
            'Overflow, when full, ends in the storm sewer.',
          ),
          ...place,
        }
      : {
          reaches: 'edge-of-data',
          feature: null,
          result: 'check',
          why: 'Overflow, when full, leaves the ground that was read before it reaches anything: look on site where it goes.',
          ...place,
        };
  return crossed === null ? end : afterLowSpot(crossed, end);
}

/** A low spot on the way matters unless what comes after it is worse. */
function afterLowSpot(crossed: OverflowVerdict, then: OverflowVerdict): OverflowVerdict {
  if (then.result === 'fail') {
    return { ...then, why: `${then.why} Before that it fills a low spot.` };
  }
  const onward =
    then.result === 'pass' ? ` Then: ${lowerFirst(then.why.replace(', when full,', ''))}` : '';
  return { ...crossed, why: crossed.why + onward };
}

type Found = Pick<OverflowVerdict, 'reaches' | 'feature' | 'result' | 'why'>;

/** What lies at one place of the path; the worst first where several do. */
function reachedAt(
  at: XY,
  plan: LocalPlan,
  basinId: string,
  own: readonly LocalFeature<'lot'>[],
  wasOnLot: boolean,
): Found | null {
  return (
    buildingAt(at, plan) ??
    septicOrWellAt(at, plan) ??
    neighbourAt(at, plan, own) ??
    drainAt(at, plan, basinId) ??
    offLotsAt(at, plan, own, wasOnLot)
  );
}

function buildingAt(at: XY, plan: LocalPlan): Found | null {
  for (const building of plan.of.building) {
    const away = nearest({ type: 'point', at }, building.shape).distanceM;
    const { foundation } = building.feature.properties;
    const name = nameOf(building);
    if (away <= reachedM && foundation === 'none') {
      return fail('building', building, `Overflow, when full, runs against ${name}: turn it away.`);
    }
    if (away > overflowFromFoundationM || foundation === 'none') continue;
    return fail(
      'foundation',
      building,
      `Overflow, when full, passes ${away.toFixed(1)} m from ${name}${foundation === undefined ? ', whose foundation is not stated' : ''}; it is to keep ${overflowFromFoundationM} m from a foundation: move the notch.`,
    );
  }
  return null;
}

function septicOrWellAt(at: XY, plan: LocalPlan): Found | null {
  for (const field of plan.of['septic-field']) {
    if (nearest({ type: 'point', at }, field.shape).distanceM > reachedM) continue;
    return fail(
      'septic-field',
      field,
      'Overflow, when full, runs over the septic field: move the notch.',
    );
  }
  for (const tank of plan.of['septic-tank']) {
    if (distanceM(at, tank.shape.at) > overflowFromFoundationM) continue;
    return fail(
      'septic-tank',
      tank,
      'Overflow, when full, runs by the septic tank: move the notch.',
    );
  }
  for (const well of plan.of.well) {
    if (distanceM(at, well.shape.at) > overflowFromFoundationM) continue;
    return fail('well', well, `Overflow, when full, runs past a well: move the notch.`);
  }
  return null;
}

function neighbourAt(at: XY, plan: LocalPlan, own: readonly LocalFeature<'lot'>[]): Found | null {
  // where outlines overlap the lot that comes first in the plan has the place
  const lot = plan.of.lot.find(({ shape }) => contains(shape.rings, at));
  if (lot === undefined || own.includes(lot)) return null;
  return fail(
    'neighbour',
    lot,
    `Overflow, when full, runs onto ${nameOf(lot)}: most local rules forbid sending gathered water onto a neighbour. Move the notch, or lead it to a swale or the street.`,
  );
}

function drainAt(at: XY, plan: LocalPlan, basinId: string): Found | null {
  for (const kind of ['swale', 'watercourse'] as const) {
    for (const line of plan.of[kind]) {
      const halfM = (line.feature.properties.width_m ?? 0) / 2;
      const away = nearest({ type: 'point', at }, line.shape).distanceM;
      if (away > Math.max(halfM, reachedM)) continue;
      return pass(kind, line.id, `Overflow, when full, runs into ${nameOf(line)}.`);
    }
  }
  for (const wetland of plan.of.wetland) {
    if (!contains(wetland.shape.rings, at)) continue;
    return {
      reaches: 'wetland',
      feature: wetland.id,
      result: 'check',
      why: 'Overflow, when full, runs into a wetland: ask whether that needs a permit.',
    };
  }
  for (const basin of plan.of.basin) {
    if (basin.id === basinId || !contains(basin.shape.rings, at)) continue;
    return {
      reaches: 'basin',
      feature: basin.id,
      result: 'check',
      why: `Overflow, when full, runs into ${nameOf(basin)}, which has to hold it too.`,
    };
  }
  return null;
}

function offLotsAt(
  at: XY,
  plan: LocalPlan,
  own: readonly LocalFeature<'lot'>[],
  wasOnLot: boolean,
): Found | null {
  if (own.length === 0 || !wasOnLot || plan.of.lot.some(({ shape }) => contains(shape.rings, at))) {
    return null;
  }
  if (plan.of.lot.some(({ feature }) => !feature.properties.own)) {
    return pass(
      'street',
      null,
      'Overflow, when full, leaves the lot for ground that belongs to none: the street.',
    );
  }
  return {
    reaches: 'street',
    feature: null,
    result: 'check',
    why: 'Overflow, when full, leaves the lot; no neighbour is drawn, so see that it is the street it comes to.',
  };
}

function fail(reaches: OverflowReaches, feature: LocalFeature, why: string): Found {
  return { reaches, feature: feature.id, result: 'fail', why };
}

function pass(reaches: OverflowReaches, feature: string | null, why: string): Found {
  return { reaches, feature, result: 'pass', why };
}

function nameOf({ feature }: LocalFeature): string {
  return featureName(feature);
}

function isIn(lots: readonly LocalFeature<'lot'>[], at: XY): boolean {
  return lots.some(({ shape }) => contains(shape.rings, at));
}

function isInAny(polygons: readonly Rings[], at: XY): boolean {
  return polygons.some((rings) => contains(rings, at));
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

/** The path with places no farther apart than what it is looked at for. */
function densified(path: readonly XY[]): XY[] {
  const places: XY[] = path.slice(0, 1);
  for (let i = 1; i < path.length; i++) {
    const [from, to] = [path[i - 1], path[i]];
    const pieces = Math.max(1, Math.ceil(distanceM(from, to) / everyM));
    for (let piece = 1; piece <= pieces; piece++) {
      const t = piece / pieces;
      places.push([from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]);
    }
  }
  return places;
}

function localPolygons(outline: MultiPolygon, plan: LocalPlan): Rings[] {
  return outline.coordinates.map((polygon) =>
    polygon.map((ring) => ring.map(([lng, lat]): XY => plan.frame.toLocal([lng, lat]))),
  );
}

/** Whether a low spot is the water of the basin itself. */
function holdsBasin(polygons: readonly Rings[], plan: LocalPlan, basinId: string): boolean {
  const basin = plan.of.basin.find(({ id }) => id === basinId);
  if (basin === undefined) return false;
  const [ring] = basin.shape.rings;
  const inside = (rings: Rings): boolean =>
    rings[0].some((corner) => contains([ring], corner)) ||
    ring.some((corner) => contains(rings, corner));
  return polygons.some(inside);
}
