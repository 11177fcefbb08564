import type { Frame, LngLat, XY } from '../frame/frame';
import type { LineShape, PointShape, PolygonShape, Ring, Shape } from '../frame/shapes';
import { kindNames, type FeatureOf, type Kind, type Plan, type PlanFeature } from './schema';

/** The shape that a kind of feature has, read off its geometry in the schema. */
export type ShapeOf<K extends Kind> = {
  Point: PointShape;
  LineString: LineShape;
  Polygon: PolygonShape;
}[FeatureOf<K>['geometry']['type']];

/** What a kind has beside its shape that is also a place. */
export interface PlacesOf {
  downspout: {
    /** Where its water reaches the ground (the downspout's own place unless the plan says otherwise). */
    readonly outlet: XY | 'storm-sewer';
  };
  'yard-drain': {
    /** Where it empties, when the plan says so. */
    readonly outlet: XY | 'storm-sewer' | undefined;
  };
  'trench-drain': PlacesOf['yard-drain'];
  roof: {
    /** The line from which it falls to either side, when the plan says so. */
    readonly ridge: readonly XY[] | undefined;
  };
  basin: {
    /** Where the basin spills, when the plan says so. */
    readonly overflow: XY | undefined;
  };
}

/** A feature of the plan with its geometry in the local metric frame. */
export type LocalFeature<K extends Kind = Kind> = {
  [N in K]: {
    readonly id: string;
    readonly kind: N;
    /** The feature as the plan has it, for its properties. */
    readonly feature: FeatureOf<N>;
    readonly shape: ShapeOf<N>;
  } & (N extends keyof PlacesOf ? PlacesOf[N] : unknown);
}[K];

/** A plan in the lot's local metric frame. Read only; share it freely. */
export interface LocalPlan {
  readonly plan: Plan;
  readonly frame: Frame;
  /** The features of each kind, in document order; every kind has a list. */
  readonly of: { readonly [K in Kind]: readonly LocalFeature<K>[] };
  readonly byId: ReadonlyMap<string, LocalFeature>;
}

const known = new WeakMap<Plan, LocalPlan>();

/**
 * The plan with each geometry in local metres. Rings lose their repeated last corner. A second call with the
 * same plan and an equal frame gives the same object, so callers need not pass it around. What is to go is left out.
 * Cost: linear in the vertices of features not seen before, about a microsecond each (a map projection).
 */
export function toLocal(plan: Plan, frame: Frame): LocalPlan {
  const before = known.get(plan);
  if (before !== undefined && sameFrame(before.frame, frame)) return before;
  const lists = Object.fromEntries(kindNames.map((kind) => [kind, [] as LocalFeature[]]));
  const byId = new Map<string, LocalFeature>();
  for (const feature of plan.features) {
    // On the sheet, not on the ground: see `planIn`.
    if (feature.properties.state === 'gone') continue;
    const local = localFeature(feature, frame);
    lists[local.kind].push(local);
    byId.set(local.id, local);
  }
  // Each list was filled by its features' own kind.
  const local: LocalPlan = { plan, frame, of: lists as unknown as LocalPlan['of'], byId };
  known.set(plan, local);
  return local;
}

const knownFeatures = new WeakMap<PlanFeature, { frame: Frame; local: LocalFeature }>();

/** Features that a change left alone keep their local object, and with it all that is remembered by its shape. */
function localFeature(feature: PlanFeature, frame: Frame): LocalFeature {
  const before = knownFeatures.get(feature);
  if (before !== undefined && sameFrame(before.frame, frame)) return before.local;
  const local = projected(feature, frame);
  knownFeatures.set(feature, { frame, local });
  return local;
}

function projected(feature: PlanFeature, frame: Frame): LocalFeature {
  const { kind } = feature.properties;
  const shape = localShape(feature.geometry, frame);
  const local = { id: feature.id, kind, feature, shape, ...placesOf(feature, shape, frame) };
  // The schema ties kind, geometry and properties together; the pieces above keep that tie.
  return local as unknown as LocalFeature;
}

function placesOf(feature: PlanFeature, shape: Shape, frame: Frame): object {
  if (feature.properties.kind === 'downspout') {
    const { outlet } = feature.properties;
    if (outlet === 'storm-sewer') return { outlet };
    return { outlet: outlet === undefined ? (shape as PointShape).at : frame.toLocal(outlet) };
  }
  if (feature.properties.kind === 'yard-drain' || feature.properties.kind === 'trench-drain') {
    const { outlet } = feature.properties;
    return { outlet: Array.isArray(outlet) ? frame.toLocal(outlet as LngLat) : outlet };
  }
  if (feature.properties.kind === 'roof') {
    return { ridge: feature.properties.ridge?.map((at) => frame.toLocal(at)) };
  }
  if (feature.properties.kind === 'basin') {
    const { overflow } = feature.properties;
    return { overflow: overflow === undefined ? undefined : frame.toLocal(overflow) };
  }
  return {};
}

function localShape(geometry: PlanFeature['geometry'], frame: Frame): Shape {
  switch (geometry.type) {
    case 'Point':
      return { type: 'point', at: frame.toLocal(geometry.coordinates) };
    case 'LineString':
      return { type: 'line', points: geometry.coordinates.map((at) => frame.toLocal(at)) };
    case 'Polygon':
      return { type: 'polygon', rings: geometry.coordinates.map((ring) => localRing(ring, frame)) };
  }
}

function localRing(ring: readonly LngLat[], frame: Frame): Ring {
  return ring.slice(0, -1).map((at) => frame.toLocal(at));
}

function sameFrame(a: Frame, b: Frame): boolean {
  return (
    a === b ||
    (a.spec.projection === b.spec.projection &&
      a.spec.originEast === b.spec.originEast &&
      a.spec.originNorth === b.spec.originNorth &&
      a.spec.metresPerUnit === b.spec.metresPerUnit)
  );
}
