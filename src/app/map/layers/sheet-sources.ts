import type { FeatureCollection, Position } from 'geojson';
import type { LngLat } from '../../../../lib/frame/frame';
import type { PlanFeature } from '../../../../lib/plan/schema';
import { inShownUnits } from '../../look/height-text';
import { keepClearInk, keepClearPattern } from '../images/sheet-patterns';
import type { Ink } from '../../look/ink';
import type { ContourLine } from '../../worker/analysis-api';
import type { Corners } from '../../worker/sheet-image';
import type { KeepClear } from '../../worker/keep-clear';
import { geometryOf } from './plan-drawing';
import type { Probe, WayLeg } from './sheet-content';
import type { Site } from './drawn-sites';
import type { UnitSystem } from '../../../../lib/units/units';

/** Nothing to draw. */
export const nothing: FeatureCollection = { type: 'FeatureCollection', features: [] };

/** Contours with their heights as labels; the number of decimals follows the interval. */
export function contourFeatures(
  contours: readonly ContourLine[],
  units: UnitSystem,
): FeatureCollection {
  const decimals = contourDecimals(contours, units);
  return {
    type: 'FeatureCollection',
    features: contours.map(({ elevationM, index, lines, label }) => ({
      type: 'Feature',
      geometry: { type: 'MultiLineString', coordinates: lines.map(positions) },
      properties: { index, label: label ?? inShownUnits(elevationM, units).toFixed(decimals) },
    })),
  };
}

/** The fewest decimals at which no height written on a contour is off by over a twentieth of the interval. */
function contourDecimals(contours: readonly ContourLine[], units: UnitSystem): number {
  const heights = contours
    .filter((contour) => contour.index)
    .map(({ elevationM }) => inShownUnits(elevationM, units))
    .sort((a, b) => a - b);
  let interval = Infinity;
  for (let i = 0; i + 1 < heights.length; i++) {
    const step = heights[i + 1] - heights[i];
    if (step > 1e-6) interval = Math.min(interval, step);
  }
  const allowed = Math.min(interval, 1) / 20;
  for (let decimals = 0; decimals < 3; decimals++) {
    if (heights.every((height) => Math.abs(height - Number(height.toFixed(decimals))) < allowed)) {
      return decimals;
    }
  }
  return 3;
}

/** Keep-clear zones with the hatching of their rule; rules take their looks in the order they come. */
export function keepClearFeatures(zones: KeepClear | null, ink: Ink): FeatureCollection {
  const order = new Map<string, number>();
  return {
    type: 'FeatureCollection',
    features: (zones?.features ?? []).map((zone) => {
      const { rule, letter } = zone.properties;
      const nth = order.get(rule) ?? order.size;
      order.set(rule, nth);
      return {
        type: 'Feature',
        geometry: zone.geometry,
        properties: {
          id: rule,
          letter,
          pattern: keepClearPattern(nth),
          colour: keepClearInk(ink, nth),
        },
      };
    }),
  };
}

/** Shapes alone, of features that are not in the plan yet. */
export function gatheredFeatures(features: readonly PlanFeature[]): FeatureCollection {
  return {
    type: 'FeatureCollection',
    features: features.map((feature) => ({
      type: 'Feature',
      geometry: geometryOf(feature),
      properties: {},
    })),
  };
}

/** Outlines of candidate sites, and the ways of roofs' water to them, told apart by `role`. */
export function siteFeatures(sites: readonly Site[]): FeatureCollection {
  return {
    type: 'FeatureCollection',
    features: sites.flatMap(({ rank, ring, result, leads = [] }) => [
      {
        type: 'Feature' as const,
        geometry: { type: 'Polygon' as const, coordinates: [closed(positions(ring))] },
        properties: { id: String(rank), role: 'rim', result: result ?? 'pass' },
      },
      ...leads.map((lead) => ({
        type: 'Feature' as const,
        geometry: { type: 'LineString' as const, coordinates: positions(lead) },
        properties: { id: String(rank), role: 'lead' },
      })),
    ]),
  };
}

/** What a probed point answers, and the basins' overflow, as one collection told apart by `role`. */
export function probeFeatures(probe: Probe | null, overflow: readonly WayLeg[]): FeatureCollection {
  const features: FeatureCollection['features'] = [];
  if (probe !== null) {
    if (probe.area !== null) {
      features.push({ type: 'Feature', geometry: probe.area, properties: { role: 'area' } });
    }
    for (const pond of probe.ponds?.features ?? []) {
      features.push({ type: 'Feature', geometry: pond.geometry, properties: { role: 'pond' } });
    }
    const legs = probe.legs ?? [];
    if (legs.some(({ by }) => by === 'pipe')) {
      for (const { by, points } of legs) {
        features.push(line(points, by === 'pipe' ? 'pipe-path' : 'path'));
      }
    } else if (probe.path.length > 1) {
      features.push(line(probe.path, 'path'));
    }
    features.push({
      type: 'Feature',
      geometry: { type: 'Point', coordinates: [...probe.at] },
      properties: { role: 'at' },
    });
  }
  for (const { by, points } of overflow) {
    if (points.length > 1)
      features.push(line(points, by === 'pipe' ? 'pipe-path' : 'overflow-path'));
  }
  return { type: 'FeatureCollection', features };
}

/** The edge of the elevation data. */
export function edgeFeatures(corners: Corners | null): FeatureCollection {
  if (corners === null) return nothing;
  return {
    type: 'FeatureCollection',
    features: [
      {
        type: 'Feature',
        geometry: { type: 'LineString', coordinates: closed(positions(corners)) },
        properties: {},
      },
    ],
  };
}

function line(points: readonly LngLat[], role: string): FeatureCollection['features'][number] {
  return {
    type: 'Feature',
    geometry: { type: 'LineString', coordinates: positions(points) },
    properties: { role },
  };
}

function positions(points: readonly LngLat[]): Position[] {
  return points.map(([lng, lat]) => [lng, lat]);
}

function closed(ring: Position[]): Position[] {
  const first = ring.at(0);
  const last = ring.at(-1);
  if (first === undefined || last === undefined) return ring;
  return first[0] === last[0] && first[1] === last[1] ? ring : [...ring, first];
}
