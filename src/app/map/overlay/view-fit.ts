import type { LngLat } from '../../../../lib/frame/frame';
import { featuresOf, type Plan } from '../../../../lib/plan/schema';
import type { Bounds, Corners } from '../map-props';

/** The box around places; `null` when there are none. */
export function boundsOf(places: Iterable<LngLat>): Bounds | null {
  let west = Infinity;
  let south = Infinity;
  let east = -Infinity;
  let north = -Infinity;
  for (const [lng, lat] of places) {
    west = Math.min(west, lng);
    east = Math.max(east, lng);
    south = Math.min(south, lat);
    north = Math.max(north, lat);
  }
  return west > east ? null : [west, south, east, north];
}

/** What the sheet shows at first: the planned lot, else every feature, else the data, else nothing. */
export function homeBounds(plan: Plan, data: Corners | null): Bounds | null {
  const own = featuresOf(plan, 'lot').filter((lot) => lot.properties.own);
  return (
    boundsOf(own.flatMap((lot) => lot.geometry.coordinates[0])) ??
    boundsOf(plan.features.flatMap(placesOf)) ??
    (data === null ? null : boundsOf(data))
  );
}

function placesOf({ geometry }: Plan['features'][number]): LngLat[] {
  if (geometry.type === 'Point') return [geometry.coordinates];
  return geometry.type === 'LineString' ? geometry.coordinates : geometry.coordinates.flat();
}
