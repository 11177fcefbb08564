import type { LngLat } from '../../../../lib/frame/frame';
import type { PlanFeature } from '../../../../lib/plan/schema';
import type { Part } from '../layers/draft';
import type { PlanGeometry } from '../../state/plan/plan-geometry';
import { outletOf } from '../layers/plan-drawing';
import type { ScreenXY } from '../layers/screen-xy';
import { usualRidge } from './usual-ridge';

/** A handle for a place that a feature names: the outlet of a downspout or yard drain, a basin's overflow, an end of a roof's ridge. */
export interface Satellite {
  readonly part: Exclude<Part, 'geometry'>;
  /** Which of the part's places it is: ridges have several. */
  readonly index: number;
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
  if (properties.kind === 'roof' && geometry.type === 'Polygon') {
    const ridge = properties.ridge ?? usualRidge(geometry.coordinates[0]);
    return ridge.map((place, index) => ({
      part: 'ridge',
      index,
      at: toScreen(place),
      // Not the plan's yet: dragged once, it is.
      waiting: properties.ridge === undefined,
      anchor: toScreen(ridge[index === 0 ? 1 : index - 1]),
    }));
  }
  return [];
}

/** What a handle that is dragged to a place makes of its part; null where the feature has no such handle. */
export function draggedTo(
  feature: PlanFeature,
  { part, index }: Pick<Satellite, 'part' | 'index'>,
  place: LngLat,
): PlanGeometry | null {
  if (part !== 'ridge') return { type: 'Point', coordinates: [...place] };
  const { properties, geometry } = feature;
  if (properties.kind !== 'roof' || geometry.type !== 'Polygon') return null;
  const ridge = properties.ridge ?? usualRidge(geometry.coordinates[0]);
  return {
    type: 'LineString',
    coordinates: ridge.map((end, i) => (i === index ? [...place] : [...end])),
  };
}

function satellite(
  part: Satellite['part'],
  place: LngLat | null,
  anchor: ScreenXY,
  toScreen: (place: LngLat) => ScreenXY,
): Satellite {
  if (place !== null) return { part, index: 0, at: toScreen(place), waiting: false, anchor };
  const at: ScreenXY = [anchor[0] + waitingPx, anchor[1] + waitingPx];
  return { part, index: 0, at, waiting: true, anchor };
}
