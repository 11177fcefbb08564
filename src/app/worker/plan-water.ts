import { designBasins } from '../../../lib/basin/design/design-basins';
import { uptakeOf } from '../../../lib/basin/design/for-drainage';
import { partOf, type Steps } from '../../../lib/drainage/steps';
import { withUptake } from '../../../lib/drainage/storm/basin-uptake';
import { stormSteps } from '../../../lib/drainage/storm/storm-on-ground';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { eventDuration } from '../../../lib/storm/event-duration';
import type { WaterPicture } from './analysis-api';
import { KeptGround } from './kept-ground';
import { waterSteps, type Stormed } from './water-picture';

/** Water of a plan other than that on the sheet, in buffers of its own. */
export class PlanWater {
  readonly elevation: Elevation;
  readonly #kept: KeptGround;

  constructor(elevation: Elevation) {
    this.elevation = elevation;
    this.#kept = new KeptGround(elevation);
  }

  /** The storm's answer for a plan; its basins take in while it rains what their design says. */
  *waterSteps(local: LocalPlan): Steps<WaterPicture> {
    const bare = yield* partOf(this.stormSteps(local, null), 0, 0.3);
    const uptakeM3 = this.uptakeBy(bare);
    const stormed =
      uptakeM3.size === 0 ? bare : yield* partOf(this.stormSteps(local, uptakeM3), 0.4, 0.6);
    const water = yield* partOf(waterSteps(stormed, this.elevation.systemName), 0.6, 1);
    return { ...water, before: null, depthBeforeM: null };
  }

  /** A plan with its storm, its basins taking in what they do while it rains. */
  *stormSteps(local: LocalPlan, uptakeM3: ReadonlyMap<string, number> | null): Steps<Stormed> {
    const { lotfall } = local.plan;
    const bare = yield* partOf(this.#kept.steps(local), 0, 0.7);
    const shape =
      uptakeM3 === null ? bare : withUptake(bare, uptakeM3, eventDuration(lotfall).hours);
    const storm = yield* partOf(stormSteps(shape, local, eventDepthMm(lotfall)), 0.7, 1);
    return { local, shape, storm };
  }

  /** What each basin of a plan takes in while it rains. */
  uptakeBy({ local, ...on }: Stormed): ReadonlyMap<string, number> {
    if (local.of.basin.length === 0) return new Map();
    return uptakeOf(designBasins({ ...on, elevation: this.elevation.grid, plan: local }));
  }
}
