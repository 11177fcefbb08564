import { shapeSteps, type ShapedGround } from '../../../lib/drainage/storm/shaped-ground';
import type { Steps } from '../../../lib/drainage/steps';
import { Workspace } from '../../../lib/drainage/terrain/workspace';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import type { Kind } from '../../../lib/plan/schema';

/** Kinds whose place or properties change the ground itself; the others only change what runs over it. */
const groundKinds: readonly Kind[] = [
  'lot',
  'spot-height',
  'relevelled-ground',
  'puddle-edge',
  'level-line',
  'break-line',
  'regrade',
  'swale',
  'berm',
  'basin',
  'wall',
  'kerb',
  'building',
  'roof',
  'drain-pipe',
  'yard-drain',
  'trench-drain',
  // A pipe that one leads into is closed at its upper end.
  'downspout',
];

/** A shaped ground of one elevation, kept as long as the features that make it stay the same. */
export class KeptGround {
  readonly #elevation: Elevation;
  readonly #workspace = new Workspace();
  #key = '';
  #shape: ShapedGround | null = null;

  constructor(elevation: Elevation) {
    this.#elevation = elevation;
  }

  /** The ground of a plan. Where its steps are not taken to the end, none is kept: the buffers of the last one are written over. */
  *steps(plan: LocalPlan): Steps<ShapedGround> {
    const key = groundKey(plan);
    if (this.#shape !== null && key === this.#key) return this.#shape;
    this.#shape = null;
    const shape = yield* shapeSteps(this.#elevation.grid, plan, this.#workspace);
    this.#shape = shape;
    this.#key = key;
    return shape;
  }

  /** Whether a ground is the one that is kept still: none of its buffers has been written over since. */
  holds(shape: ShapedGround): boolean {
    return this.#shape === shape;
  }

  /** Takes over a ground of the same elevation that has been shaped elsewhere. */
  take(shape: ShapedGround, plan: LocalPlan): void {
    this.#shape = shape;
    this.#key = groundKey(plan);
  }
}

/** The same for plans that make the same ground. */
function groundKey({ plan }: LocalPlan): string {
  return JSON.stringify(
    plan.features.filter((feature) => groundKinds.includes(feature.properties.kind)),
  );
}
