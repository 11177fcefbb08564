import type { Feature, FeatureCollection, Geometry, Position } from 'geojson';
import type { Frame, LngLat, XY } from '../../../../lib/frame/frame';
import { olderGround } from '../../../../lib/plan/older-ground';
import type { FeatureOf, Kind, Plan, PlanFeature } from '../../../../lib/plan/schema';
import { canopyRing } from './canopy-ring';
import { areaM2 as areaOf } from '../../../../lib/frame/shapes';
import { insetRing } from './inset-ring';
import { labelPoint } from './label-point';
import { utilityLetters } from '../../look/ink';
import type { Draft } from './draft';
import type { UnitSystem } from '../../../../lib/units/units';
import { heightText } from '../../look/height-text';

/** What a piece of the drawing is, so that a layer can take just its own. */
export type DrawnRole =
  | Kind
  | 'lot-corner'
  | 'ridge'
  | 'basin-step'
  | 'canopy'
  | 'leader'
  | 'outlet'
  | 'overflow'
  | 'overflow-leader'
  | 'label'
  | 'sub-label'
  /** Under and beside what is newer than the heights. */
  | 'old-ground';

export interface DrawnProperties {
  /** Id of the plan's feature that this piece belongs to. */
  id: string;
  role: DrawnRole;
  /** Ground area, so that of two overlapping areas the smaller one is picked. */
  areaM2?: number;
  label?: string;
  /** Whether a label stands under its place, which something else has. */
  below?: boolean;
  own?: boolean;
  cover?: string;
  service?: string;
  letter?: string;
  located?: boolean;
  step?: number;
  /** Of what is to come or to go; what stands carries none. */
  state?: 'proposed' | 'gone';
}

export type DrawnPiece = Feature<Geometry, DrawnProperties>;

/**
 * The plan as pieces to draw: each feature's own geometry and what goes with it (a basin's depth lines, a
 * tree's canopy, a downspout's leader and outlet, labels). A draft takes the place of what it changes, so
 * the drawing follows the pointer while the plan stays as it is.
 */
export function planDrawing(
  plan: Plan,
  draft: Draft | null,
  frame: Frame,
  units: UnitSystem,
): FeatureCollection<Geometry, DrawnProperties> {
  const pieces: DrawnPiece[] = [];
  const newer = new Set(olderGround(plan).newer.map(({ id }) => id));
  for (const feature of plan.features) {
    const drawn = withDraft(feature, draft);
    const pen = new Pen(pieces, drawn, frame);
    drawFeature(pen, drawn, units);
    if (newer.has(feature.id)) pen.draw('old-ground', geometryOf(drawn), { label: 'old ground' });
  }
  return { type: 'FeatureCollection', features: pieces };
}

/** The feature with a draft's change in it; the feature itself when the draft is about another. */
export function withDraft(feature: PlanFeature, draft: Draft | null): PlanFeature {
  if (draft?.id !== feature.id) return feature;
  if (draft.part === 'geometry') {
    // The gesture began on this feature's own geometry, so the type of geometry is the same.
    return { ...feature, geometry: draft.geometry } as unknown as PlanFeature;
  }
  return {
    ...feature,
    properties: { ...feature.properties, [draft.part]: draft.geometry.coordinates },
  } as PlanFeature;
}

/** What a feature's pieces are drawn with. */
class Pen {
  readonly #pieces: DrawnPiece[];
  readonly #feature: PlanFeature;
  readonly frame: Frame;
  /** The outer ring, then the holes, on the local frame; none for lines and points. */
  readonly rings: XY[][];
  readonly areaM2: number;

  constructor(pieces: DrawnPiece[], feature: PlanFeature, frame: Frame) {
    this.#pieces = pieces;
    this.#feature = feature;
    this.frame = frame;
    this.rings = ringsOf(feature).map((line) => line.map(frame.toLocal));
    this.areaM2 = areaOf(this.rings);
  }

  draw(role: DrawnRole, geometry: Geometry, more: Omit<DrawnProperties, 'id' | 'role'> = {}): void {
    const { id } = this.#feature;
    const { state } = this.#feature.properties;
    const stated = state === undefined || state === 'existing' ? {} : { state };
    this.#pieces.push({ type: 'Feature', geometry, properties: { id, role, ...stated, ...more } });
  }

  /** The feature's own geometry. */
  own(more: Omit<DrawnProperties, 'id' | 'role'> = {}): void {
    this.draw(this.#feature.properties.kind, geometryOf(this.#feature), more);
  }

  label(role: 'label' | 'sub-label', text: string | undefined, at?: LngLat, below = false): void {
    if (text === undefined) return;
    const [ring = [], ...holes] = this.rings;
    const place = at ?? this.frame.toLngLat(labelPoint(ring, holes));
    const said = below ? '' : stateSuffix[this.#feature.properties.state ?? 'existing'];
    this.draw(role, { type: 'Point', coordinates: copy(place) }, { label: text + said, below });
  }

  /** Where its water comes out, and the way there. */
  leadOut(): void {
    const outlet = outletOf(this.#feature);
    if (outlet === null) return;
    const coordinates = [copy(pointOf(this.#feature)), copy(outlet)];
    this.draw('leader', { type: 'LineString', coordinates });
    this.draw('outlet', { type: 'Point', coordinates: copy(outlet) });
  }
}

function drawFeature(pen: Pen, feature: PlanFeature, units: UnitSystem): void {
  const { id, properties } = feature;
  const { areaM2 } = pen;
  switch (properties.kind) {
    case 'lot':
      pen.own({ own: properties.own, areaM2 });
      if (properties.own) {
        const coordinates = ringsOf(feature).flatMap((line) => line.slice(1).map(copy));
        pen.draw('lot-corner', { type: 'MultiPoint', coordinates });
      }
      break;
    case 'building':
      pen.own({ areaM2 });
      pen.label('label', properties.name?.toUpperCase());
      if (properties.name !== undefined) {
        pen.label('sub-label', foundationWords[properties.foundation ?? 'none'], undefined, true);
      }
      break;
    case 'roof':
      pen.own({ areaM2 });
      if (properties.ridge !== undefined) {
        pen.draw('ridge', { type: 'LineString', coordinates: properties.ridge.map(copy) });
      }
      break;
    case 'surface':
      pen.own({ areaM2, cover: properties.cover });
      pen.label('sub-label', properties.name);
      break;
    case 'septic-field':
    case 'regrade':
    case 'soakaway':
    case 'wetland':
    case 'easement':
    case 'puddle-edge':
    case 'relevelled-ground':
      pen.own({ areaM2 });
      pen.label('sub-label', properties.name ?? kindWords[properties.kind]);
      break;
    case 'basin':
      drawBasin(pen, properties);
      break;
    case 'utility': {
      const located = properties.located !== undefined;
      const letter = utilityLetters[properties.service] + (located ? '' : ' ?');
      pen.own({ service: properties.service, letter, located });
      break;
    }
    case 'wall':
    case 'kerb':
    case 'swale':
    case 'berm':
    case 'drain-pipe':
    case 'trench-drain':
    case 'french-drain':
    case 'level-line':
    case 'break-line':
    case 'fence':
    case 'watercourse':
      pen.own(properties.name === undefined ? {} : { label: properties.name });
      break;
    case 'tree':
      drawTree(pen, pointOf(feature), properties);
      break;
    case 'downspout': {
      pen.leadOut();
      // An id makes a label only where it is as short as one.
      const known = properties.name ?? (id.length <= 4 ? id : undefined);
      pen.own(known === undefined ? {} : { label: known });
      break;
    }
    case 'spot-height':
      pen.own({ label: levelText(properties, units) });
      break;
    case 'yard-drain':
    case 'well':
    case 'septic-tank':
    case 'sump-outlet':
    case 'window-well':
    case 'observation':
    case 'soil-test':
      pen.leadOut();
      pen.own({ label: properties.name ?? kindWords[properties.kind] });
      break;
  }
}

/** What a label says of what is to come or to go. */
const stateSuffix = { existing: '', proposed: ', to come', gone: ', to go' } as const;

/** A level as it was read: a height, or a drop below a mark. */
function levelText(
  { elevation_m, drop_m }: FeatureOf<'spot-height'>['properties'],
  units: UnitSystem,
): string {
  if (elevation_m !== undefined) return heightText(elevation_m, units, 0.01);
  return drop_m === undefined ? '?' : `↓ ${heightText(drop_m, units, 0.01)}`;
}

/** A basin with the lines of its depth. */
function drawBasin(pen: Pen, properties: FeatureOf<'basin'>['properties']): void {
  pen.own({ areaM2: pen.areaM2 });
  const bankM = (properties.ponding_depth_m ?? 0.15) * (properties.side_slope ?? 3);
  // Never so far in that a small garden shows no floor.
  const reachM = Math.min(bankM, 0.3 * Math.sqrt(pen.areaM2));
  for (const step of [1, 2]) {
    const inner = insetRing(pen.rings[0], (reachM * step) / 2);
    if (inner.length === 0) continue;
    const coordinates = [inner.map((point) => copy(pen.frame.toLngLat(point)))];
    pen.draw('basin-step', { type: 'Polygon', coordinates }, { step });
  }
  if (properties.overflow !== undefined) {
    pen.draw('overflow', { type: 'Point', coordinates: copy(properties.overflow) });
  }
  pen.label('label', properties.name);
}

/** A tree under its canopy. */
function drawTree(pen: Pen, at: LngLat, properties: FeatureOf<'tree'>['properties']): void {
  const canopyM = properties.canopy_radius_m ?? 0;
  if (canopyM > 0) {
    const ring = canopyRing(pen.frame.toLocal(at), canopyM);
    const coordinates = [ring.map((point) => copy(pen.frame.toLngLat(point)))];
    pen.draw('canopy', { type: 'Polygon', coordinates });
  }
  pen.own();
  pen.label('sub-label', properties.name, at, true);
}

const kindWords = {
  'septic-field': 'septic field',
  wetland: 'wetland',
  regrade: 'regraded',
  soakaway: 'soakaway',
  'relevelled-ground': 'levelled again',
  easement: 'easement',
  'puddle-edge': 'puddle',
  well: 'well',
  'septic-tank': 'septic tank',
  'yard-drain': 'yard drain',
  'sump-outlet': 'sump outlet',
  'window-well': 'window well',
  observation: 'water seen',
  'soil-test': 'soil test',
};

const foundationWords = {
  basement: 'basement',
  'crawl-space': 'crawl space',
  slab: 'slab',
  none: undefined,
};

/**
 * Where the water of a downspout or yard drain comes out on the ground; `null` where the plan names no place,
 * and where a pipe or the storm sewer takes it.
 */
export function outletOf({ properties }: PlanFeature): LngLat | null {
  if (properties.kind !== 'downspout' && properties.kind !== 'yard-drain') return null;
  const { outlet, pipe } = properties;
  return pipe === undefined && Array.isArray(outlet) ? (outlet as LngLat) : null;
}

/** The rings of an area; none for lines and points. */
function ringsOf(feature: PlanFeature): LngLat[][] {
  return feature.geometry.type === 'Polygon' ? feature.geometry.coordinates : [];
}

function pointOf(feature: PlanFeature): LngLat {
  return feature.geometry.type === 'Point' ? feature.geometry.coordinates : [0, 0];
}

/** A feature's geometry as GeoJSON whose coordinates nobody else holds. */
export function geometryOf(
  feature: PlanFeature,
): Extract<Geometry, { type: 'Polygon' | 'LineString' | 'Point' }> {
  const { geometry } = feature;
  switch (geometry.type) {
    case 'Point':
      return { type: 'Point', coordinates: copy(geometry.coordinates) };
    case 'LineString':
      return { type: 'LineString', coordinates: geometry.coordinates.map(copy) };
    case 'Polygon':
      return { type: 'Polygon', coordinates: geometry.coordinates.map((ring) => ring.map(copy)) };
  }
}

function copy(point: LngLat | XY): Position {
  return [point[0], point[1]];
}
