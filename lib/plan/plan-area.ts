import type { LngLat } from '../frame/frame';
import { featuresOf, type Plan, type PlanFeature } from './schema';

/** West, south, east, north in degrees. */
export type LngLatBox = readonly [west: number, south: number, east: number, north: number];

/** The box around the own lot; around everything drawn when there is none; null for an empty plan. */
export function planArea(plan: Plan): LngLatBox | null {
  const own = featuresOf(plan, 'lot').filter((lot) => lot.properties.own);
  return boxOf(own.length > 0 ? own : plan.features);
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
