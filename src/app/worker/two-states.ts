import {
  differenceDoubtSteps,
  type DifferenceDoubt,
} from '../../../lib/drainage/certainty/difference-doubt';
import type { ErrorModel } from '../../../lib/drainage/height-error/error-field';
import { partOf, type Steps } from '../../../lib/drainage/steps';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import { makeFrame } from '../../../lib/frame/frame';
import { levelsElevation } from '../../../lib/levels/levels-elevation';
import { madeFrom } from '../../../lib/levels/made-from';
import { toLocal, type LocalPlan } from '../../../lib/plan/local-plan';
import { planIn } from '../../../lib/plan/plan-state';
import type { Plan } from '../../../lib/plan/schema';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import type { ExistingState } from './analysis-api';
import { PlanWater } from './plan-water';

/** Surfaces on which both states are tried. Our choice, no source: nine in ten of them leave two out at either end. */
const surfaces = 40;
/** So that asking again gives the same answer. */
const seed = 1;

/**
 * A plan as it stands today, beside what it will be: on the ground that was read, or where that is made from levels, on
 * the ground of today's. It has buffers of its own.
 */
export class TwoStates {
  readonly #read: Elevation;
  /** The ground of today's levels, by those levels. */
  #levels: { readonly key: string; readonly elevation: Elevation } | null = null;
  #water: PlanWater;

  constructor(elevation: Elevation) {
    this.#read = elevation;
    this.#water = new PlanWater(elevation);
  }

  /** The answer for the plan as it stands today. */
  *existingSteps(plan: Plan): Steps<ExistingState> {
    const { on, local } = this.#today(plan);
    const water = yield* on.waterSteps(local);
    return { water, grid: on.elevation.grid };
  }

  /**
   * How far the error of the heights moves what differs.
   *
   * @param uptakeM3 - what each basin that will be there takes in while it rains.
   */
  *doubtSteps(
    plan: Plan,
    uptakeM3: ReadonlyMap<string, number>,
    errors: ErrorModel,
  ): Steps<ReadonlyMap<string, DifferenceDoubt>> {
    const { on, local } = this.#today(plan);
    const { grid } = this.#read;
    const bare = yield* partOf(on.stormSteps(local, null), 0, 0.05);
    const study = {
      before: { elevation: on.elevation.grid, plan: local, uptakeM3: on.uptakeBy(bare) },
      after: { elevation: grid, plan: toLocal(plan, makeFrame(grid.frame)), uptakeM3 },
      rainMm: eventDepthMm(plan.lotfall),
      errors,
      seed,
      surfaces,
    };
    return yield* partOf(differenceDoubtSteps(study), 0.05, 1);
  }

  /** @throws {InputError} what `levelsElevation` throws, where today's levels make no ground. */
  #today(plan: Plan): { readonly on: PlanWater; readonly local: LocalPlan } {
    const today = planIn(plan, 'existing');
    const elevation = this.#elevationOf(plan, today);
    if (elevation !== this.#water.elevation) this.#water = new PlanWater(elevation);
    return { on: this.#water, local: toLocal(today, makeFrame(elevation.grid.frame)) };
  }

  #elevationOf(plan: Plan, today: Plan): Elevation {
    const key = levelsKey(today);
    if (plan.lotfall.elevation?.of_levels !== true || key === levelsKey(planIn(plan, 'proposed'))) {
      return this.#read;
    }
    if (this.#levels?.key !== key) {
      this.#levels = { key, elevation: levelsElevation(today, 'levels as they are').elevation };
    }
    return this.#levels.elevation;
  }
}

/** The same for plans whose levels make the same ground. */
function levelsKey(plan: Plan): string {
  return JSON.stringify(madeFrom(plan));
}
