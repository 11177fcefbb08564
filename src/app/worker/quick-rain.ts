import { listedLowSpots, type ListedLowSpot } from '../../../lib/drainage/answer/listed-low-spots';
import { readyForRain, type RainReady } from '../../../lib/drainage/storm/ponding';
import type { ShapedGround } from '../../../lib/drainage/storm/shaped-ground';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import type { Plan } from '../../../lib/plan/schema';

/** A ground made ready for one depth of rain after another, with its low spots listed. */
export interface QuickRain {
  readonly ready: RainReady;
  readonly features: Plan['features'];
  readonly soil: Plan['lotfall']['soil'];
  readonly spots: readonly ListedLowSpot[];
}

/** Lists the low spots of a ground and makes it ready. */
export function quickRain(shape: ShapedGround, local: LocalPlan): QuickRain {
  return {
    ready: readyForRain(shape, local),
    features: local.plan.features,
    soil: local.plan.lotfall.soil,
    spots: listedLowSpots(shape.ground, shape.terrain),
  };
}

/** Plans come from the page as copies, so what they say is compared. */
export function isQuickFor(
  quick: QuickRain | null,
  shape: ShapedGround,
  plan: Plan,
): quick is QuickRain {
  return (
    quick?.ready.shape === shape &&
    JSON.stringify(quick.soil) === JSON.stringify(plan.lotfall.soil) &&
    JSON.stringify(quick.features) === JSON.stringify(plan.features)
  );
}
