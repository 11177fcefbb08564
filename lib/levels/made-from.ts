import type { Kind, Plan, PlanFeature } from '../plan/schema';
import { breaks } from './break-lines';

const read: readonly Kind[] = ['spot-height', 'puddle-edge', 'level-line'];

/** What the ground made from a plan's levels hangs on: what was read, and where it bends or jumps. */
export function madeFrom({ features }: Plan): PlanFeature[] {
  return features.filter(
    (feature) =>
      feature.properties.state !== 'gone' &&
      (read.includes(feature.properties.kind) || breaks(feature) !== null),
  );
}
