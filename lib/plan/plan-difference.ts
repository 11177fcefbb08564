import type { XY } from '../frame/frame';
import {
  areaM2,
  centroid,
  distanceM,
  lengthM,
  nearestEdges,
  verticesOf,
  type Shape,
} from '../frame/shapes';
import { featureName } from './feature-name';
import { toLocal, type LocalFeature, type LocalPlan } from './local-plan';
import type { Kind, Plan, PlanFeature } from './schema';

/** A property that two plans give differently; `null` where one does not give it. */
export interface PropertyDifference {
  readonly property: string;
  readonly from: unknown;
  readonly to: unknown;
}

/** What differs about one feature between two plans of a lot. Field names are those of the JSON output. */
export interface FeatureDifference {
  readonly feature: string;
  readonly feature_name: string;
  readonly kind: Kind;
  readonly change: 'added' | 'gone' | 'changed';
  /** How far its middle moved, metres; `null` where it stands in one of the plans alone. */
  readonly moved_m: number | null;
  /** Which way, degrees clockwise from north; `null` where it did not move. */
  readonly bearing_deg: number | null;
  /** Whether it kept its shape on the way: then every part of it moved alike. */
  readonly kept_shape: boolean;
  /** The farthest that any of its outline lies from where the outline was, metres. */
  readonly farthest_m: number | null;
  /** Of areas in m2, of lines in metres; `null` for points and where it stands in one of the plans alone. */
  readonly size: { readonly unit: 'm2' | 'm'; readonly from: number; readonly to: number } | null;
  readonly properties: readonly PropertyDifference[];
}

/** What differs between two plans of a lot. */
export interface PlanDifference {
  readonly features: readonly FeatureDifference[];
  /** Settings of the plan that are not the same, by their names in the document. */
  readonly settings: readonly string[];
}

/** Less than this is the rounding of coordinates, metres: a ten-millionth of a degree and less. */
const stillM = 0.0005;

/**
 * What changed from an earlier plan to this one, feature by feature as their ids say. What is to go counts as gone.
 *
 * Cost: for features that changed the product of their vertices.
 */
export function planDifference(earlier: Plan, plan: LocalPlan): PlanDifference {
  const before = toLocal(earlier, plan.frame);
  // What became another kind of thing is another thing.
  const gone = [...before.byId.values()].filter(({ id, kind }) => plan.byId.get(id)?.kind !== kind);
  const features = [
    ...[...plan.byId.values()].flatMap((now) => {
      const was = before.byId.get(now.id);
      if (was?.kind !== now.kind) return [inOneAlone(now, 'added')];
      return changeOf(was, now) ?? [];
    }),
    ...gone.map((was) => inOneAlone(was, 'gone')),
  ];
  return { features, settings: changedSettings(earlier, plan.plan) };
}

function inOneAlone(
  { id, kind, feature }: LocalFeature,
  change: 'added' | 'gone',
): FeatureDifference {
  return {
    feature: id,
    feature_name: featureName(feature),
    kind,
    change,
    moved_m: null,
    bearing_deg: null,
    kept_shape: false,
    farthest_m: null,
    size: null,
    properties: [],
  };
}

function changeOf(was: LocalFeature, now: LocalFeature): FeatureDifference | null {
  const properties = changedProperties(was.feature, now.feature);
  const moved = movement(was.shape, now.shape);
  if (properties.length === 0 && moved.farthest_m === 0) return null;
  return {
    feature: now.id,
    feature_name: featureName(now.feature),
    kind: now.kind,
    change: 'changed',
    ...moved,
    properties,
  };
}

type Movement = Pick<
  FeatureDifference,
  'moved_m' | 'bearing_deg' | 'kept_shape' | 'farthest_m' | 'size'
>;

/** Whatever order the corners come in: shapes are laid over each other by their middles. */
function movement(was: Shape, now: Shape): Movement {
  const farthestM = farthest(was, now);
  if (farthestM < stillM) {
    return { moved_m: 0, bearing_deg: null, kept_shape: true, farthest_m: 0, size: null };
  }
  const [x0, y0] = middle(was);
  const [x1, y1] = middle(now);
  const by: XY = [x1 - x0, y1 - y0];
  const movedM = Math.hypot(...by);
  return {
    moved_m: movedM,
    bearing_deg: movedM < stillM ? null : ((Math.atan2(by[0], by[1]) * 180) / Math.PI + 360) % 360,
    kept_shape: farthest(shifted(was, by), now) < stillM,
    farthest_m: farthestM,
    size: sizes(was, now),
  };
}

function sizes(was: Shape, now: Shape): FeatureDifference['size'] {
  if (was.type === 'polygon' && now.type === 'polygon') {
    return { unit: 'm2', from: areaM2(was.rings), to: areaM2(now.rings) };
  }
  if (was.type === 'line' && now.type === 'line') {
    return { unit: 'm', from: lengthM(was.points), to: lengthM(now.points) };
  }
  return null;
}

/** The farthest that a corner of either lies from the outline of the other. */
function farthest(a: Shape, b: Shape): number {
  if (a.type !== b.type) return Infinity;
  const ofCorners = (from: Shape, to: Shape): number =>
    Math.max(...verticesOf(from).map((at) => nearestEdges({ type: 'point', at }, to).distanceM));
  return Math.max(ofCorners(a, b), ofCorners(b, a));
}

function middle(shape: Shape): XY {
  switch (shape.type) {
    case 'point':
      return shape.at;
    case 'polygon':
      return centroid(shape.rings);
    case 'line':
      return middleOfLine(shape.points);
  }
}

/** The mean of a line's places, each stretch by its length. */
function middleOfLine(points: readonly XY[]): XY {
  const whole = lengthM(points);
  if (whole === 0) return points[0];
  let [x, y] = [0, 0];
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1], points[i]];
    const share = distanceM(a, b) / whole / 2;
    x += (a[0] + b[0]) * share;
    y += (a[1] + b[1]) * share;
  }
  return [x, y];
}

function shifted(shape: Shape, [byX, byY]: XY): Shape {
  const moved = (points: readonly XY[]): XY[] => points.map(([x, y]) => [x + byX, y + byY]);
  switch (shape.type) {
    case 'point':
      return { ...shape, at: moved([shape.at])[0] };
    case 'line':
      return { ...shape, points: moved(shape.points) };
    case 'polygon':
      return { ...shape, rings: shape.rings.map(moved) };
  }
}

function changedProperties(was: PlanFeature, now: PlanFeature): PropertyDifference[] {
  return changedMembers(was.properties, now.properties).map((property) => ({
    property,
    from: member(was.properties, property),
    to: member(now.properties, property),
  }));
}

/** Not of the ground or the design: how it is shown, and what is said of the handing in. */
const besides = ['version', 'name', 'units', 'revisions', 'submission', 'job', 'prices'];

function changedSettings(earlier: Plan, plan: Plan): string[] {
  return changedMembers(earlier.lotfall, plan.lotfall).filter((name) => !besides.includes(name));
}

function changedMembers(was: object, now: object): string[] {
  const names = new Set([...Object.keys(was), ...Object.keys(now)]);
  return [...names].filter(
    (name) => JSON.stringify(member(was, name)) !== JSON.stringify(member(now, name)),
  );
}

function member(of: object, name: string): unknown {
  return (of as Readonly<Record<string, unknown>>)[name] ?? null;
}
