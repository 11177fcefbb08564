import { designBasins } from '../../../lib/basin/design/design-basins';
import { uptakeOf } from '../../../lib/basin/design/for-drainage';
import {
  differenceDoubtSteps,
  type DifferenceDoubt,
} from '../../../lib/drainage/certainty/difference-doubt';
import type { ErrorModel } from '../../../lib/drainage/height-error/error-field';
import { partOf, type Steps } from '../../../lib/drainage/steps';
import { withUptake } from '../../../lib/drainage/storm/basin-uptake';
import { stormSteps } from '../../../lib/drainage/storm/storm-on-ground';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import { makeFrame } from '../../../lib/frame/frame';
import { levelsElevation } from '../../../lib/levels/levels-elevation';
import { madeFrom } from '../../../lib/levels/made-from';
import { toLocal, type LocalPlan } from '../../../lib/plan/local-plan';
import { planIn } from '../../../lib/plan/plan-state';
import type { Plan } from '../../../lib/plan/schema';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { eventDuration } from '../../../lib/storm/event-duration';
import type { ExistingState } from './analysis-api';
import { KeptGround } from './kept-ground';
import { waterSteps, type Stormed } from './water-picture';

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
  #kept: KeptGround;
  #keptOf: Elevation;

  constructor(elevation: Elevation) {
    this.#read = elevation;
    this.#kept = new KeptGround(elevation);
    this.#keptOf = elevation;
  }

  /** The answer for the plan as it stands today. */
  *existingSteps(plan: Plan): Steps<ExistingState> {
    const { elevation, local } = this.#today(plan);
    const bare = yield* partOf(this.#stormSteps(local, null), 0, 0.3);
    const uptakeM3 = uptakeBy(bare, elevation);
    const stormed =
      uptakeM3.size === 0 ? bare : yield* partOf(this.#stormSteps(local, uptakeM3), 0.4, 0.6);
    const water = yield* partOf(waterSteps(stormed, elevation.systemName), 0.6, 1);
    return { water: { ...water, before: null, depthBeforeM: null }, grid: elevation.grid };
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
    const { elevation, local } = this.#today(plan);
    const { grid } = this.#read;
    const bare = yield* partOf(this.#stormSteps(local, null), 0, 0.05);
    const study = {
      before: { elevation: elevation.grid, plan: local, uptakeM3: uptakeBy(bare, elevation) },
      after: { elevation: grid, plan: toLocal(plan, makeFrame(grid.frame)), uptakeM3 },
      rainMm: eventDepthMm(plan.lotfall),
      errors,
      seed,
      surfaces,
    };
    return yield* partOf(differenceDoubtSteps(study), 0.05, 1);
  }

  /** Today's plan with its storm, its basins taking in what they do while it rains. */
  *#stormSteps(local: LocalPlan, uptakeM3: ReadonlyMap<string, number> | null): Steps<Stormed> {
    const { lotfall } = local.plan;
    const bare = yield* partOf(this.#kept.steps(local), 0, 0.7);
    const shape =
      uptakeM3 === null ? bare : withUptake(bare, uptakeM3, eventDuration(lotfall).hours);
    const storm = yield* partOf(stormSteps(shape, local, eventDepthMm(lotfall)), 0.7, 1);
    return { local, shape, storm };
  }

  /** @throws {InputError} what `levelsElevation` throws, where today's levels make no ground. */
  #today(plan: Plan): { readonly elevation: Elevation; readonly local: LocalPlan } {
    const today = planIn(plan, 'existing');
    const elevation = this.#elevationOf(plan, today);
    if (elevation !== this.#keptOf) {
      this.#kept = new KeptGround(elevation);
      this.#keptOf = elevation;
    }
    return { elevation, local: toLocal(today, makeFrame(elevation.grid.frame)) };
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

/** What each basin of a plan takes in while it rains. */
function uptakeBy({ local, ...on }: Stormed, { grid }: Elevation): ReadonlyMap<string, number> {
  if (local.of.basin.length === 0) return new Map();
  return uptakeOf(designBasins({ ...on, elevation: grid, plan: local }));
}

/** The same for plans whose levels make the same ground. */
function levelsKey(plan: Plan): string {
  return JSON.stringify(madeFrom(plan));
}
