import type { LngLat } from '../../../../lib/frame/frame';
import type { Plan } from '../../../../lib/plan/schema';
import type { Draft } from '../layers/draft';
import type { Site } from '../layers/drawn-sites';
import { withDraft } from '../layers/plan-drawing';
import type { ScreenXY } from '../layers/screen-xy';
import { badgeBox } from './furniture';

/** What dimensions are to keep off, as outlines on the screen: the basins as they are now, and the sites' badges. */
export function obstaclesOn(
  plan: Plan,
  draft: Draft | null,
  sites: readonly Site[],
  toScreen: (place: LngLat) => ScreenXY,
): readonly (readonly ScreenXY[])[] {
  return [
    ...plan.features.flatMap((feature) => {
      const { properties, geometry } = withDraft(feature, draft);
      if (properties.kind !== 'basin' || geometry.type !== 'Polygon') return [];
      return [geometry.coordinates[0].map(toScreen)];
    }),
    ...sites.map(({ at }) => badgeBox(toScreen(at))),
  ];
}
