import type { Plan, PlanFeature } from './schema';

/** Kinds that change the ground on which they stand, so that heights measured before them are not of it. */
const works = new Set(['building', 'wall', 'kerb', 'berm', 'swale', 'regrade', 'basin']);
/** Surfaces that are laid on ground that was made even for them. */
const laid = new Set(['paving', 'gravel', 'deck']);

/** What stands on ground that was measured before it, and what may. */
export interface OlderGround {
  /** Built after the heights were measured, or in the same year or month where no more is said. */
  readonly newer: readonly PlanFeature[];
  /** Of which the plan does not say when they were built. */
  readonly unsaid: readonly PlanFeature[];
}

/**
 * Which features of a plan are newer than the heights of its elevation file. None where the plan does not say when those
 * were measured, or where its ground is made from levels; what is only to come, or shows in the elevation, is none.
 */
export function olderGround({ features, lotfall: { elevation } }: Plan): OlderGround {
  const measured = elevation?.measured;
  if (measured === undefined || elevation?.of_levels === true) return { newer: [], unsaid: [] };
  const standing = features.filter((feature) => isWork(feature) && isStanding(feature));
  return {
    newer: standing.filter(
      ({ properties: { built } }) => built !== undefined && isSince(built, measured),
    ),
    unsaid: standing.filter(({ properties: { built } }) => built === undefined),
  };
}

function isStanding({ properties }: PlanFeature): boolean {
  return properties.state !== 'proposed' && Reflect.get(properties, 'in_elevation') !== true;
}

/** Whether a feature is built, so that the ground under and beside it is another since. */
export function isWork({ properties }: PlanFeature): boolean {
  return (
    works.has(properties.kind) || (properties.kind === 'surface' && laid.has(properties.cover))
  );
}

/** Whether something may have been built after a day: to the year or month where one of them says no more. */
function isSince(built: string, measured: string): boolean {
  const letters = Math.min(built.length, measured.length);
  return built.slice(0, letters) >= measured.slice(0, letters);
}
