import type { Feature, FeatureCollection, Geometry, Position } from 'geojson';
import type { Frame, LngLat, XY } from '../../../../lib/frame/frame';
import type { Kind, Plan, PlanFeature } from '../../../../lib/plan/schema';
import { canopyRing } from './canopy-ring';
import { areaM2 as areaOf } from '../../../../lib/frame/shapes';
import { insetRing } from './inset-ring';
import { labelPoint } from './label-point';
import { utilityLetters } from '../../look/ink';
import type { Draft } from './draft';
import type { UnitSystem } from '../../../../lib/units/units';
import { heightText } from '../../look/height-text';

/** What a piece of the drawing is, so that a layer can take just its own. */
export type Role =
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
  | 'sub-label';

export interface DrawnProperties {
  /** Id of the plan's feature that this piece belongs to. */
  id: string;
  role: Role;
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
  for (const feature of plan.features) {
    drawFeature(pieces, withDraft(feature, draft), frame, units);
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

function drawFeature(
  pieces: DrawnPiece[],
  feature: PlanFeature,
  frame: Frame,
  units: UnitSystem,
): void {
  const { id, properties } = feature;
  const piece = (
    role: Role,
    geometry: Geometry,
    more: Omit<DrawnProperties, 'id' | 'role'> = {},
  ): void => {
    pieces.push({ type: 'Feature', geometry, properties: { id, role, ...more } });
  };
  const label = (role: 'label' | 'sub-label', at: Position, text: string, below = false): void => {
    piece(role, { type: 'Point', coordinates: at }, { label: text, below });
  };
  const leadOut = (): void => {
    const outlet = outletOf(feature);
    if (outlet === null) return;
    piece('leader', { type: 'LineString', coordinates: [[...pointOf(feature)], [...outlet]] });
    piece('outlet', { type: 'Point', coordinates: [...outlet] });
  };
  const [ring = [], ...holes] = ringsOf(feature).map((line) => line.map(frame.toLocal));
  const middle = (): Position => [...frame.toLngLat(labelPoint(ring, holes))];
  const areaM2 = areaOf([ring, ...holes]);

  switch (properties.kind) {
    case 'lot':
      piece('lot', geometryOf(feature), { own: properties.own, areaM2 });
      if (properties.own) {
        const coordinates = ringsOf(feature).flatMap((line) => line.slice(1).map(copy));
        piece('lot-corner', { type: 'MultiPoint', coordinates });
      }
      break;
    case 'building':
      piece('building', geometryOf(feature), { areaM2 });
      if (properties.name !== undefined) {
        label('label', middle(), properties.name.toUpperCase());
        const below = foundationWords[properties.foundation ?? 'none'];
        if (below !== '') label('sub-label', middle(), below, true);
      }
      break;
    case 'roof':
      piece('roof', geometryOf(feature), { areaM2 });
      if (properties.ridge !== undefined) {
        piece('ridge', { type: 'LineString', coordinates: properties.ridge.map(copy) });
      }
      break;
    case 'surface':
      piece('surface', geometryOf(feature), { areaM2, cover: properties.cover });
      if (properties.name !== undefined) label('sub-label', middle(), properties.name);
      break;
    case 'septic-field':
    case 'regrade':
    case 'wetland':
    case 'easement':
      piece(properties.kind, geometryOf(feature), { areaM2 });
      label('sub-label', middle(), properties.name ?? kindWords[properties.kind]);
      break;
    case 'basin': {
      piece('basin', geometryOf(feature), { areaM2 });
      const bankM = (properties.ponding_depth_m ?? 0.15) * (properties.side_slope ?? 3);
      // Never so far in that a small garden shows no floor.
      const reachM = Math.min(bankM, 0.3 * Math.sqrt(areaM2));
      for (const step of [1, 2]) {
        const inner = insetRing(ring, (reachM * step) / 2);
        if (inner.length === 0) continue;
        const coordinates = [inner.map((point) => [...frame.toLngLat(point)])];
        piece('basin-step', { type: 'Polygon', coordinates }, { step });
      }
      if (properties.overflow !== undefined) {
        const overflow = [...properties.overflow];
        piece('overflow', { type: 'Point', coordinates: overflow });
      }
      if (properties.name !== undefined) label('label', middle(), properties.name);
      break;
    }
    case 'utility': {
      const located = properties.located !== undefined;
      const letter = utilityLetters[properties.service] + (located ? '' : ' ?');
      piece('utility', geometryOf(feature), { service: properties.service, letter, located });
      break;
    }
    case 'wall':
    case 'kerb':
    case 'swale':
    case 'berm':
    case 'drain-pipe':
    case 'watercourse':
      piece(
        properties.kind,
        geometryOf(feature),
        properties.name === undefined ? {} : { label: properties.name },
      );
      break;
    case 'tree': {
      const at = pointOf(feature);
      const canopyM = properties.canopy_radius_m;
      if (canopyM !== undefined && canopyM > 0) {
        const coordinates = [
          canopyRing(frame.toLocal(at), canopyM).map((point) => [...frame.toLngLat(point)]),
        ];
        piece('canopy', { type: 'Polygon', coordinates });
      }
      piece('tree', geometryOf(feature));
      if (properties.name !== undefined) label('sub-label', [...at], properties.name, true);
      break;
    }
    case 'downspout': {
      leadOut();
      // An id makes a label only where it is as short as one.
      const known = properties.name ?? (id.length <= 4 ? id : undefined);
      piece('downspout', geometryOf(feature), known === undefined ? {} : { label: known });
      break;
    }
    case 'yard-drain':
      leadOut();
      piece('yard-drain', geometryOf(feature), {
        label: properties.name ?? kindWords['yard-drain'],
      });
      break;
    case 'spot-height':
      piece('spot-height', geometryOf(feature), {
        label: heightText(properties.elevation_m, units, 0.01),
      });
      break;
    case 'well':
    case 'septic-tank':
    case 'sump-outlet':
    case 'soil-test':
      piece(properties.kind, geometryOf(feature), {
        label: properties.name ?? kindWords[properties.kind],
      });
      break;
  }
}

const kindWords = {
  'septic-field': 'septic field',
  wetland: 'wetland',
  regrade: 'regraded',
  easement: 'easement',
  well: 'well',
  'septic-tank': 'septic tank',
  'yard-drain': 'yard drain',
  'sump-outlet': 'sump outlet',
  'soil-test': 'soil test',
};

const foundationWords = {
  basement: 'basement',
  'crawl-space': 'crawl space',
  slab: 'slab',
  none: '',
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
