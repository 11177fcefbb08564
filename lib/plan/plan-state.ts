import type { Plan, PlanFeature } from './schema';

/** What a plan is judged as: as it stands today, or as it will be. */
export type PlanState = 'existing' | 'proposed';

/**
 * The plan as it stands today (without what is only proposed, with what is to go), or as it will be. What says nothing of
 * its state stands in both; a height that was read twice, today's and the proposed one, stands in each once.
 */
export function planIn(plan: Plan, state: PlanState): Plan {
  const other = state === 'existing' ? 'proposed' : 'gone';
  const features = plan.features.flatMap((feature): PlanFeature[] => {
    if (feature.properties.state === other) return [];
    return feature.properties.state === 'gone' ? [standing(feature)] : [feature];
  });
  return { ...plan, features };
}

/** Whether a plan says of anything that it is to come or to go, so that the two states of it differ. */
export function hasTwoStates({ features }: Plan): boolean {
  return features.some(({ properties: { state } }) => state === 'proposed' || state === 'gone');
}

/** What is to go, while it is still there. */
function standing(feature: PlanFeature): PlanFeature {
  const properties = { ...feature.properties };
  delete properties.state;
  // Kind and properties still belong together.
  return { ...feature, properties } as PlanFeature;
}
