import type { BasinAsBuilt } from '../../basin/form/as-built';
import type { Frame, LngLat } from '../../frame/frame';
import { featureName } from '../../plan/feature-name';
import { geometryTypeOf, kindNames, type Plan, type PlanFeature } from '../../plan/schema';

/** A value in a table. */
export type ExportValue = string | number | boolean;

/** A place with what is known of it; positions in degrees, rings closed. */
export interface ExportFeature {
  readonly id: string;
  readonly name: string;
  readonly properties: Readonly<Record<string, ExportValue>>;
  /** Points of a point or line: one list; of a polygon: a list for each ring. */
  readonly rings: readonly (readonly LngLat[])[];
}

/** Features of one kind, and so of one geometry, under a name in our words. */
export interface ExportLayer {
  readonly name: string;
  readonly geometry: 'Point' | 'LineString' | 'Polygon';
  readonly features: readonly ExportFeature[];
}

/** Sign between the name of a thing and its number where it has several parts. */
const partMark = '-';

/**
 * A plan as layers, one for each kind of feature that it has, in the order of the kinds; what is to go is among them, and says so.
 *
 * @param built - basins as they are to be built: their planting zones and notches become layers too.
 */
export function exportLayers(
  plan: Plan,
  built: readonly BasinAsBuilt[] = [],
  frame: Frame | null = null,
): ExportLayer[] {
  const layers = kindNames.flatMap((kind): ExportLayer[] => {
    const features = plan.features.filter(({ properties }) => properties.kind === kind);
    if (features.length === 0) return [];
    return [
      { name: layerName(kind), geometry: geometryTypeOf(kind), features: features.map(ofPlan) },
    ];
  });
  return frame === null ? layers : [...layers, ...builtLayers(built, frame)];
}

/** A kind as a layer's name: letters, figures and underscores alone. */
function layerName(kind: string): string {
  return kind.replaceAll('-', '_');
}

function ofPlan(feature: PlanFeature): ExportFeature {
  const { geometry, properties, id } = feature;
  const rings =
    geometry.type === 'Polygon'
      ? geometry.coordinates
      : geometry.type === 'LineString'
        ? [geometry.coordinates]
        : [[geometry.coordinates]];
  const plain: Record<string, ExportValue> = {};
  for (const [key, value] of Object.entries(properties)) {
    const cell = valueOf(value);
    if (cell !== null && key !== 'name') plain[key] = cell;
  }
  return { id, name: featureName(feature), properties: plain, rings: rings.map(flat) };
}

/** Positions without heights, which are the elevation's business. */
function flat(positions: readonly LngLat[]): LngLat[] {
  return positions.map(([lng, lat]) => [lng, lat]);
}

function valueOf(value: unknown): ExportValue | null {
  if (typeof value === 'string' || typeof value === 'boolean') return value;
  if (typeof value === 'number') return Number.isFinite(value) ? value : null;
  return value === undefined || value === null ? null : JSON.stringify(value);
}

function builtLayers(built: readonly BasinAsBuilt[], frame: Frame): ExportLayer[] {
  if (built.length === 0) return [];
  const closed = (ring: readonly (readonly [number, number])[]): LngLat[] =>
    [...ring, ring[0]].map(frame.toLngLat);
  return [
    {
      name: 'planting_zone',
      geometry: 'Polygon',
      features: built.flatMap(({ id, zones }) =>
        zones.flatMap(({ zone, polygons, waterM: [from, to] }) =>
          polygons.map((rings, i) => ({
            id: [id, zone, ...(i === 0 ? [] : [i + 1])].join(partMark),
            name: `${zone} zone`,
            properties: { basin: id, zone, water_from_m: from, water_to_m: to },
            rings: rings.map(closed),
          })),
        ),
      ),
    },
    {
      name: 'notch',
      geometry: 'Point',
      features: built.map(({ id, finished: { form, grid } }) => ({
        id: [id, 'notch'].join(partMark),
        name: 'notch',
        properties: {
          basin: id,
          width_m: form.overflowWidthM,
          sill_m: form.overflowM + grid.datumM,
        },
        rings: [[frame.toLngLat(form.overflowAt)]],
      })),
    },
  ];
}
