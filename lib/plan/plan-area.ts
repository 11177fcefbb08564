import type { LngLat } from '../frame/frame';
import { featuresOf, type Plan, type PlanFeature } from './schema';

/** West, south, east, north in degrees. */
export type LngLatBox = readonly [west: number, south: number, east: number, north: number];

/** The rings of the own lot, or of everything drawn when there is none, as ground is read around; null for an empty plan. */
export function planOutline(plan: Plan): readonly (readonly LngLat[])[] | null {
  const rings = surveyed(plan).flatMap((feature) =>
    feature.geometry.type === 'Polygon' ? feature.geometry.coordinates : [positionsOf(feature)],
  );
  return rings.length === 0 ? null : rings;
}

/** The box around the own lot; around everything drawn when there is none; null for an empty plan. */
export function planArea(plan: Plan): LngLatBox | null {
  return boxOf(surveyed(plan));
}

function surveyed(plan: Plan): readonly PlanFeature[] {
  const own = featuresOf(plan, 'lot').filter((lot) => lot.properties.own);
  return own.length > 0 ? own : plan.features;
}

function boxOf(features: readonly PlanFeature[]): LngLatBox | null {
  let west = Infinity;
  let south = Infinity;
  let east = -Infinity;
  let north = -Infinity;
  for (const feature of features) {
    for (const [lng, lat] of positionsOf(feature)) {
      west = Math.min(west, lng);
      south = Math.min(south, lat);
      east = Math.max(east, lng);
      north = Math.max(north, lat);
    }
  }
  return west > east ? null : [west, south, east, north];
}

/** All positions of a feature's geometry, whatever its type. */
export function positionsOf({ geometry }: PlanFeature): readonly LngLat[] {
  switch (geometry.type) {
    case 'Point':
      return [geometry.coordinates];
    case 'LineString':
      return geometry.coordinates;
    case 'Polygon':
      return geometry.coordinates.flat();
  }
}
