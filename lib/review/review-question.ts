import type { ShapedGround } from '../drainage/storm/shaped-ground';
import type { LocalPlan } from '../plan/local-plan';

/** What a review looks at: one ground, the plan as it is to be, and the plan to hold it against. */
export interface ReviewQuestion {
  /** Shaped with `plan`. */
  readonly shape: ShapedGround;
  readonly plan: LocalPlan;
  /** The same plan without its gardens and what else is only proposed, in the same frame. */
  readonly before: LocalPlan;
  /** Of the storm or thaw, mm. */
  readonly rainMm: number;
  /** Whether to tell also where each lot's water ends. */
  readonly origins?: boolean;
}
