import type { LngLat } from '../frame/frame';
import { contains } from '../frame/shapes';
import { featuresOf, type Plan, type PlanFeature } from './schema';

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
 * were measured, or where its ground is made from levels; what is only to come, or shows in the elevation, is none, nor is
 * what lies within an outline of newer levels.
 */
export function olderGround(plan: Plan): OlderGround {
  const { features, lotfall } = plan;
  const { elevation } = lotfall;
  const measured = elevation?.measured;
  if (measured === undefined || elevation?.of_levels === true) return { newer: [], unsaid: [] };
  const outlines = featuresOf(plan, 'relevelled-ground').filter(
    ({ properties: { state = 'existing' } }) => state === 'existing',
  );
  const isLevelledAgain = (feature: PlanFeature): boolean =>
    outlines.some(({ geometry }) =>
      placesOf(feature).every((at) => contains(geometry.coordinates, at)),
    );
  const standing = features.filter(
    (feature) => isWork(feature) && isStanding(feature) && !isLevelledAgain(feature),
  );
  return {
    newer: standing.filter(
      ({ properties: { built } }) => built !== undefined && isSince(built, measured),
    ),
    unsaid: standing.filter(({ properties: { built } }) => built === undefined),
  };
}

function placesOf({ geometry }: PlanFeature): readonly LngLat[] {
  switch (geometry.type) {
    case 'Point':
      return [geometry.coordinates];
    case 'LineString':
      return geometry.coordinates;
    case 'Polygon':
      return geometry.coordinates[0];
  }
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
