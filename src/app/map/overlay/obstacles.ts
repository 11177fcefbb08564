import type { LngLat } from '../../../../lib/frame/frame';
import type { Plan } from '../../../../lib/plan/schema';
import type { Draft } from '../layers/draft';
import { withDraft } from '../layers/plan-drawing';
import type { ScreenXY } from '../layers/screen-xy';
import type { PlacedBadge } from './badge-places';
import { badgeBox } from './furniture';

/** Outlines on the screen of the basins as they are now. */
export function basinsOn(
  plan: Plan,
  draft: Draft | null,
  toScreen: (place: LngLat) => ScreenXY,
): readonly (readonly ScreenXY[])[] {
  return plan.features.flatMap((feature) => {
    const { properties, geometry } = withDraft(feature, draft);
    if (properties.kind !== 'basin' || geometry.type !== 'Polygon') return [];
    return [geometry.coordinates[0].map(toScreen)];
  });
}

/** What dimensions are to keep off, as outlines on the screen: basins, and the badges of sites. */
export function obstaclesOn(
  basins: readonly (readonly ScreenXY[])[],
  badges: readonly PlacedBadge[],
): readonly (readonly ScreenXY[])[] {
  return [...basins, ...badges.map(({ at }) => badgeBox(at))];
}
