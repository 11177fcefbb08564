import type { Frame, LngLat, XY } from '../../../../lib/frame/frame';
import { boundsOf } from '../../../../lib/frame/shapes';
import type { PlanFeature } from '../../../../lib/plan/schema';

/** The middle of the box around a feature. */
export function middleOf(feature: PlanFeature, frame: Frame): LngLat {
  const { west, south, east, north } = boundsOf(cornersOf(feature, frame));
  return frame.toLngLat([(west + east) / 2, (south + north) / 2]);
}

/** A feature's place, points or outer ring, metres in a frame. */
export function cornersOf({ geometry }: PlanFeature, { toLocal }: Frame): XY[] {
  switch (geometry.type) {
    case 'Point':
      return [toLocal([geometry.coordinates[0], geometry.coordinates[1]])];
    case 'LineString':
      return geometry.coordinates.map(([lng, lat]) => toLocal([lng, lat]));
    case 'Polygon':
      return geometry.coordinates[0].map(([lng, lat]) => toLocal([lng, lat]));
  }
}
