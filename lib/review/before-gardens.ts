import { planIn } from '../plan/plan-state';
import type { Plan } from '../plan/schema';

/** The plan as it stands today: without what is only proposed, and without basins that it does not say are there already. */
export function beforeGardens(plan: Plan): Plan {
  const today = planIn(plan, 'existing');
  const features = today.features.filter(
    ({ properties }) => properties.kind !== 'basin' || properties.state === 'existing',
  );
  return { ...today, features };
}

/** The plan with every lot looked at alike: whose lot it is matters to no answer of a review. */
export function withAllLots(plan: Plan): Plan {
  const features = plan.features.map((feature) =>
    feature.properties.kind === 'lot'
      ? { ...feature, properties: { ...feature.properties, own: true } }
      : feature,
  );
  // Kind and properties still belong together.
  return { ...plan, features: features as Plan['features'] };
}
