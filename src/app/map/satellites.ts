import type { LngLat } from '../../../lib/frame/frame';
import type { PlanFeature } from '../../../lib/plan/schema';
import type { Part } from './map-props';
import type { ScreenXY } from './snap';

/** A handle for a place that a feature names: a downspout's outlet, a basin's overflow. */
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
  if (feature?.properties.kind === 'downspout' && feature.geometry.type === 'Point') {
    const { outlet } = feature.properties;
    const anchor = toScreen(feature.geometry.coordinates);
    // Water that goes to the storm sewer has no place on the ground to drag.
    return outlet === 'storm-sewer' ? [] : [satellite('outlet', outlet, anchor, toScreen)];
  }
  if (feature?.properties.kind === 'basin' && feature.geometry.type === 'Polygon') {
    const rim = feature.geometry.coordinates[0].map(toScreen);
    const lowest = rim.reduce((best, point) => (point[1] > best[1] ? point : best));
    return [satellite('overflow', feature.properties.overflow, lowest, toScreen)];
  }
  return [];
}

function satellite(
  part: Satellite['part'],
  place: LngLat | undefined,
  anchor: ScreenXY,
  toScreen: (place: LngLat) => ScreenXY,
): Satellite {
  if (place !== undefined) return { part, at: toScreen(place), waiting: false, anchor };
  return { part, at: [anchor[0] + waitingPx, anchor[1] + waitingPx], waiting: true, anchor };
}
