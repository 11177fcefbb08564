import type { Position } from 'geojson';
import { besideLine } from '../../../../lib/drawing/beside-line';
import { grownSharp, joined, splitBy } from '../../../../lib/drawing/areas';
import { movedBy, type Motion } from '../../../../lib/drawing/move-shape';
import { withSideLength, type MovingEnd } from '../../../../lib/drawing/side-length';
import type { Frame, LngLat, XY } from '../../../../lib/frame/frame';
import { boundsOf, type Rings } from '../../../../lib/frame/shapes';
import { asFeature } from '../../../../lib/plan/as-feature';
import { applyChange, type Change } from '../../../../lib/plan/change';
import { isKind, type Kind, type Plan, type PlanFeature } from '../../../../lib/plan/schema';
import { kindName } from './drawn-kinds';
import { freshId, outlineFault } from './new-feature';
import type { PlanGeometry } from './plan-geometry';
import { removal } from './removal';
import { tidyGeometry } from './tidy-geometry';

/**
 * Changes to one or several features of a plan. Each gives one change, which can be undone, or a sentence on why there
 * is none; nothing here touches the plan itself.
 */
export type Changed = Change | string;

/** What features are called together: 'building', or '3 features'. */
export function namesOf(features: readonly PlanFeature[]): string {
  const kinds = new Set(features.map(({ properties }) => properties.kind));
  const [kind] = kinds;
  if (features.length === 1) return kindName(kind);
  return kinds.size === 1
    ? `${features.length} × ${kindName(kind)}`
    : `${features.length} features`;
}

/** The features of some ids, in the order of the plan. */
export function featuresOf(plan: Plan, ids: readonly string[]): PlanFeature[] {
  const wanted = new Set(ids);
  return plan.features.filter(({ id }) => wanted.has(id));
}

/** The middle of the box around some features, metres; null without any. */
export function middleOf(features: readonly PlanFeature[], frame: Frame): XY | null {
  if (features.length === 0) return null;
  const places = features.flatMap(({ geometry }) => positionsOf(shapeOf(geometry)));
  const { west, east, south, north } = boundsOf(
    places.map(([lng, lat]) => frame.toLocal([lng, lat])),
  );
  return [(west + east) / 2, (south + north) / 2];
}

/** Features moved, turned or mirrored with the places that they name. */
export function inMotion(
  features: readonly PlanFeature[],
  motion: Motion,
  frame: Frame,
): PlanFeature[] {
  return features.flatMap((feature) => withMotion(feature, motion, frame) ?? []);
}

/** Moves, turns or mirrors features, or a copy of them. */
export function moving(
  plan: Plan,
  ids: readonly string[],
  motion: Motion,
  frame: Frame,
  verb: 'move' | 'turn' | 'mirror',
  isCopy: boolean,
): Changed {
  const features = featuresOf(plan, ids);
  if (features.length === 0) return 'Choose something on the sheet first.';
  const moved = inMotion(features, motion, frame);
  if (moved.length < features.length) return 'That would take it off the map: nothing was changed.';
  if (!isCopy) return { label: `${verb} ${namesOf(features)}`, puts: moved };
  const how = verb === 'move' ? '' : `, ${verb === 'turn' ? 'turned' : 'mirrored'}`;
  return { label: `copy ${namesOf(features)}${how}`, puts: copiesOf(plan, moved) };
}

/** The ids of what a change adds to a plan. */
export function addedBy(plan: Plan, { puts = [] }: Change): string[] {
  const before = new Set(plan.features.map(({ id }) => id));
  return puts.map(({ id }) => id).filter((id) => !before.has(id));
}

/** Features under new ids; what refers to another of them refers to its copy. */
function copiesOf(plan: Plan, features: readonly PlanFeature[]): PlanFeature[] {
  const ids = new Map<string, string>();
  let growing = plan;
  for (const feature of features) {
    const id = freshId(growing, feature.properties.kind);
    ids.set(feature.id, id);
    growing = { ...growing, features: [...growing.features, { ...feature, id }] };
  }
  return features.map((feature) => {
    const properties: Record<string, unknown> = { ...feature.properties };
    for (const key of ['building', 'roof', 'pipe']) {
      const copy = ids.get(String(properties[key]));
      if (copy !== undefined) properties[key] = copy;
    }
    // One lot is the one being planned.
    if (feature.properties.kind === 'lot') properties['own'] = false;
    return { ...feature, id: ids.get(feature.id)!, properties } as PlanFeature;
  });
}

/** Takes several features out, with what hangs on them. */
export function removing(plan: Plan, ids: readonly string[]): Changed {
  const features = featuresOf(plan, ids);
  if (features.length === 0) return 'Choose something on the sheet first.';
  if (features.length === 1) return removal(plan, features[0]);
  let left = plan;
  for (const { id } of features) {
    const still = left.features.find((feature) => feature.id === id);
    if (still !== undefined) left = applyChange(left, removal(left, still)).plan;
  }
  const kept = new Map(left.features.map((feature) => [feature.id, feature]));
  return {
    label: `delete ${namesOf(features)}`,
    deletes: plan.features.filter(({ id }) => !kept.has(id)).map(({ id }) => id),
    puts: left.features.filter((feature) => !plan.features.includes(feature)),
  };
}

/**
 * An outline grown by a distance (drawn in below zero), or a line moved to its right (left below zero), in place or as a
 * copy.
 */
export async function offsetting(
  plan: Plan,
  id: string,
  distanceM: number,
  frame: Frame,
  isCopy: boolean,
): Promise<Changed> {
  const [feature] = featuresOf(plan, [id]);
  if (feature === undefined || feature.geometry.type === 'Point') {
    return 'Choose an outline or a line to offset first.';
  }
  const shapes =
    feature.geometry.type === 'Polygon'
      ? (await grownSharp(localRings(feature, frame), distanceM)).map((rings) =>
          polygon(rings, frame),
        )
      : [lineOf(besideLine(localLine(feature, frame), distanceM), frame)];
  if (shapes.length === 0) return 'Nothing is left of it so far in: give a smaller distance.';
  const pieces = asPieces(plan, feature, shapes, isCopy);
  return typeof pieces === 'string'
    ? pieces
    : { label: `offset ${namesOf([feature])}`, puts: pieces };
}

/** An outline cut by a line into pieces: the largest stays what it was. */
export async function splitting(
  plan: Plan,
  id: string,
  line: readonly LngLat[],
  frame: Frame,
): Promise<Changed> {
  const [feature] = featuresOf(plan, [id]);
  if (feature?.geometry.type !== 'Polygon') return 'Choose an outline to split first.';
  const pieces = await splitBy(
    localRings(feature, frame),
    line.map((at) => frame.toLocal(at)),
  );
  if (pieces.length < 2) {
    return 'That line does not cross the outline from side to side: draw it from outside to outside.';
  }
  const shapes = pieces.map((rings) => polygon(rings, frame));
  const put = asPieces(plan, feature, shapes, false);
  return typeof put === 'string' ? put : { label: `split ${namesOf([feature])}`, puts: put };
}

/** Outlines of one kind as one, which stays what the first was. */
export async function joining(plan: Plan, ids: readonly string[], frame: Frame): Promise<Changed> {
  const features = featuresOf(plan, ids);
  const [first, ...others] = features;
  const isAlike = features.every(
    ({ geometry, properties }) =>
      geometry.type === 'Polygon' && properties.kind === first.properties.kind,
  );
  if (others.length === 0 || !isAlike)
    return 'Choose two or more outlines of the same kind to join.';
  const whole = await joined(features.map((feature) => localRings(feature, frame)));
  if (whole.length > 1) {
    return 'They do not touch each other: move them together first, or draw what lies between.';
  }
  const one = asPieces(plan, first, [polygon(whole[0], frame)], false);
  if (typeof one === 'string') return one;
  const without = removing(
    plan,
    others.map(({ id }) => id),
  );
  if (typeof without === 'string') return without;
  // What referred to the others refers to the one that they are part of now.
  const gone = new Set(others.map(({ id }) => id));
  const puts = plan.features
    .filter(({ id }) => !gone.has(id) && id !== first.id)
    .flatMap((feature) => referring(feature, gone, first.id) ?? []);
  return { label: `join ${namesOf(features)}`, puts: [...one, ...puts], deletes: [...gone] };
}

/** A feature with references to some ids turned to another; null where it has none. */
function referring(
  feature: PlanFeature,
  gone: ReadonlySet<string>,
  id: string,
): PlanFeature | null {
  const properties: Record<string, unknown> = { ...feature.properties };
  const keys = ['building', 'roof'].filter((key) => gone.has(String(properties[key])));
  for (const key of keys) properties[key] = id;
  return keys.length === 0 ? null : ({ ...feature, properties } as PlanFeature);
}

/** An outline with a hole in it. */
export function holing(plan: Plan, id: string, hole: readonly LngLat[]): Changed {
  const [feature] = featuresOf(plan, [id]);
  if (feature?.geometry.type !== 'Polygon') return 'Choose an outline to put a hole in first.';
  const rings = [...feature.geometry.coordinates, [...hole, hole[0]]].map((ring) =>
    ring.map((at) => [...at]),
  );
  const pieces = asPieces(plan, feature, [{ type: 'Polygon', coordinates: rings }], false);
  return typeof pieces === 'string'
    ? pieces
    : { label: `put a hole in ${namesOf([feature])}`, puts: pieces };
}

/** Another length of one side of an outline's outer ring or of a line. */
export function lengthening(
  plan: Plan,
  id: string,
  side: number,
  lengthM: number,
  moves: MovingEnd,
  frame: Frame,
): Changed {
  const [feature] = featuresOf(plan, [id]);
  if (feature === undefined || feature.geometry.type === 'Point')
    return 'Choose an outline or a line first.';
  if (lengthM < 0.01) return 'A side is at least 1 cm long: it stays as it was.';
  const isClosed = feature.geometry.type === 'Polygon';
  const [outer, ...holes] = isClosed ? localRings(feature, frame) : [localLine(feature, frame)];
  const next = withSideLength(outer, side, lengthM, moves, isClosed);
  const shape = isClosed ? polygon([next, ...holes], frame) : lineOf(next, frame);
  const pieces = asPieces(plan, feature, [shape], false);
  return typeof pieces === 'string'
    ? pieces
    : { label: `set a side of ${namesOf([feature])}`, puts: pieces };
}

/** A roof over a building, its eaves so far out from the walls. */
export async function roofing(
  plan: Plan,
  id: string,
  eavesM: number,
  frame: Frame,
): Promise<Changed> {
  const building = plan.features.find((feature) => feature.id === id);
  if (building === undefined || !isKind(building, 'building')) return 'Choose a building first.';
  if (eavesM < 0) return 'Eaves stand out from the walls: give a width of 0 or more.';
  const grown = await grownSharp(localRings(building, frame), eavesM);
  const roof = asFeature({
    type: 'Feature',
    id: freshId(plan, 'roof'),
    geometry: tidyGeometry(polygon(grown[0].slice(0, 1), frame)),
    properties: { kind: 'roof', building: id },
  });
  return roof === null
    ? 'No roof can be made of these walls.'
    : { label: 'make a roof from its walls', puts: [roof] };
}

/** Downspouts at corners of a roof, counted from 0. */
export function downspoutsAt(plan: Plan, id: string, corners: readonly number[]): Changed {
  const roof = plan.features.find((feature) => feature.id === id);
  if (roof === undefined || !isKind(roof, 'roof')) return 'Choose a roof first.';
  if (corners.length === 0) return 'Choose the corners that have a downspout first.';
  let growing = plan;
  const puts = corners.map((corner): PlanFeature => {
    const [lng, lat] = roof.geometry.coordinates[0][corner];
    const downspout: PlanFeature = {
      type: 'Feature',
      id: freshId(growing, 'downspout'),
      geometry: { type: 'Point', coordinates: [lng, lat] },
      properties: { kind: 'downspout', roof: id },
    };
    growing = { ...growing, features: [...growing.features, downspout] };
    return downspout;
  });
  return { label: `set ${puts.length} downspout${puts.length === 1 ? '' : 's'}`, puts };
}

/** A feature with the first of some shapes, and new ones with the others; all new for a copy. A sentence on a bad outline. */
function asPieces(
  plan: Plan,
  feature: PlanFeature,
  shapes: readonly PlanGeometry[],
  isCopy: boolean,
): PlanFeature[] | string {
  let growing = plan;
  const pieces: PlanFeature[] = [];
  for (const [i, shape] of shapes.entries()) {
    const { kind } = feature.properties;
    const isNew = isCopy || i > 0;
    const properties: Record<string, unknown> = { ...feature.properties };
    if (isNew && kind === 'lot') properties['own'] = false;
    const piece = asFeature({
      ...feature,
      id: isNew ? freshId(growing, kind) : feature.id,
      geometry: tidyGeometry(shape),
      properties,
    });
    const fault = piece === null ? 'That gives no outline that can be used.' : outlineFault(piece);
    if (piece === null || fault !== null) return fault ?? '';
    pieces.push(piece);
    growing = { ...growing, features: [...growing.features, piece] };
  }
  return pieces;
}

/** A feature and the places that it names, in motion; null where the map has no such place. */
function withMotion(feature: PlanFeature, motion: Motion, frame: Frame): PlanFeature | null {
  const move = ([lng, lat]: Position): Position => [
    ...frame.toLngLat(motion(frame.toLocal([lng, lat]))),
  ];
  const properties: Record<string, unknown> = { ...feature.properties };
  for (const key of ['outlet', 'overflow']) {
    const place = properties[key];
    if (Array.isArray(place)) properties[key] = move(place as Position);
  }
  if (Array.isArray(properties['ridge'])) {
    properties['ridge'] = (properties['ridge'] as Position[]).map(move);
  }
  const geometry = tidyGeometry(mapped(shapeOf(feature.geometry), move));
  return asFeature({ ...feature, geometry, properties });
}

function mapped(geometry: PlanGeometry, move: (at: Position) => Position): PlanGeometry {
  switch (geometry.type) {
    case 'Point':
      return { type: 'Point', coordinates: move(geometry.coordinates) };
    case 'LineString':
      return { type: 'LineString', coordinates: geometry.coordinates.map(move) };
    case 'Polygon':
      return { type: 'Polygon', coordinates: geometry.coordinates.map((ring) => ring.map(move)) };
  }
}

/** A plan's geometry, whose places are only read here. */
function shapeOf(geometry: PlanFeature['geometry']): PlanGeometry {
  return geometry as unknown as PlanGeometry;
}

function positionsOf(geometry: PlanGeometry): Position[] {
  if (geometry.type === 'Point') return [geometry.coordinates];
  return geometry.type === 'LineString' ? geometry.coordinates : geometry.coordinates.flat();
}

function localRings({ geometry }: PlanFeature, frame: Frame): Rings {
  if (geometry.type !== 'Polygon') return [];
  return geometry.coordinates.map((ring) => ring.slice(0, -1).map((at) => frame.toLocal(at)));
}

function localLine({ geometry }: PlanFeature, frame: Frame): XY[] {
  return geometry.type === 'LineString' ? geometry.coordinates.map((at) => frame.toLocal(at)) : [];
}

function polygon(rings: Rings, frame: Frame): PlanGeometry {
  const coordinates = rings.map((ring) => [...ring, ring[0]].map((at) => [...frame.toLngLat(at)]));
  return { type: 'Polygon', coordinates };
}

function lineOf(points: readonly XY[], frame: Frame): PlanGeometry {
  return { type: 'LineString', coordinates: points.map((at) => [...frame.toLngLat(at)]) };
}

/** Moves features by metres east and north. */
export function nudging(
  plan: Plan,
  ids: readonly string[],
  eastM: number,
  northM: number,
  frame: Frame,
): Changed {
  return moving(plan, ids, movedBy(eastM, northM), frame, 'move', false);
}

/** Ids of features whose kind may be changed. */
export function unlocked(plan: Plan, ids: readonly string[], locked: ReadonlySet<Kind>): string[] {
  return featuresOf(plan, ids)
    .filter(({ properties }) => !locked.has(properties.kind))
    .map(({ id }) => id);
}

/** Whether a feature stands and stays, is to come, or is to go. */
export type FeatureState = NonNullable<PlanFeature['properties']['state']>;

/** What a state is called where it is chosen. */
export const stateWords: Readonly<Record<FeatureState, string>> = {
  existing: 'stands',
  proposed: 'to come',
  gone: 'to go',
};

/** Says of features whether they stand, are to come or are to go. What stands need not say so. */
export function stating(plan: Plan, ids: readonly string[], state: FeatureState): Changed {
  const puts = featuresOf(plan, ids).flatMap((feature): PlanFeature[] => {
    if ((feature.properties.state ?? 'existing') === state) return [];
    const properties: Record<string, unknown> = { ...feature.properties, state };
    if (state === 'existing') Reflect.deleteProperty(properties, 'state');
    // Kind and properties still belong together.
    return [{ ...feature, properties } as PlanFeature];
  });
  if (puts.length === 0) return `That is what the plan says already: ${stateWords[state]}.`;
  return { label: `say that ${namesOf(puts)} ${stateDoes[state]}`, puts };
}

const stateDoes: Readonly<Record<FeatureState, string>> = {
  existing: 'stands',
  proposed: 'is to come',
  gone: 'is to go',
};
