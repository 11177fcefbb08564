import type { LngLat } from '../../../../lib/frame/frame';
import type { Plan } from '../../../../lib/plan/schema';
import type { ScreenXY } from '../layers/screen-xy';
import { isInBox, type Box } from './box-choice';
import { snapLines } from './snap';

/** Ids of the features that lie wholly in a box on the screen, in the order of the plan. */
export function featuresIn(box: Box, plan: Plan, toScreen: (place: LngLat) => ScreenXY): string[] {
  return plan.features
    .filter((feature) => {
      const lines = snapLines({ ...plan, features: [feature] }, null);
      return lines.every((line) => line.every((place) => isInBox(box, toScreen(place))));
    })
    .map(({ id }) => id);
}
