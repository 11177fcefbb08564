import type { LngLat } from '../../../lib/frame/frame';
import type { PlanFeature } from '../../../lib/plan/schema';
import type { Part } from './map-props';
import { outletOf } from './plan-drawing';
import type { ScreenXY } from './snap';

/** A handle for a place that a feature names: the outlet of a downspout or yard drain, a basin's overflow. */
export interface Satellite {
  readonly part: Exclude<Part, 'geometry'>;
  readonly at: ScreenXY;
  /** Whether the plan has no such place yet: the handle waits beside the feature to be dragged to it. */
  readonly waiting: boolean;
  /** Where the feature itself is. */
  readonly anchor: ScreenXY;
}

/** How far from its feature a waiting handle stands, pixels each way. */
const waitingPx = 22;

/** The handles of the selected feature. */
export function satellitesOf(
  feature: PlanFeature | null,
  toScreen: (place: LngLat) => ScreenXY,
): Satellite[] {
  if (feature === null) return [];
  const { properties, geometry } = feature;
  const isDrain = properties.kind === 'downspout' || properties.kind === 'yard-drain';
  if (isDrain && geometry.type === 'Point') {
    // Water that goes to the storm sewer or down a pipe has no place on the ground to drag.
    if (properties.outlet === 'storm-sewer' || properties.pipe !== undefined) return [];
    const anchor = toScreen(geometry.coordinates);
    return [satellite('outlet', outletOf(feature), anchor, toScreen)];
  }
  if (properties.kind === 'basin' && geometry.type === 'Polygon') {
    const rim = geometry.coordinates[0].map(toScreen);
    const lowest = rim.reduce((best, point) => (point[1] > best[1] ? point : best));
    return [satellite('overflow', properties.overflow ?? null, lowest, toScreen)];
  }
  return [];
}

function satellite(
  part: Satellite['part'],
  place: LngLat | null,
  anchor: ScreenXY,
  toScreen: (place: LngLat) => ScreenXY,
): Satellite {
  if (place !== null) return { part, at: toScreen(place), waiting: false, anchor };
  return { part, at: [anchor[0] + waitingPx, anchor[1] + waitingPx], waiting: true, anchor };
}
