import type { DrainageResult } from '../../../../lib/drainage/answer/drainage-result';
import type { Plan } from '../../../../lib/plan/schema';

/** An answer, and the plan that it belongs to. */
interface Answer {
  readonly plan: Plan;
  readonly result: DrainageResult;
}

/**
 * The water as it was before the last change to the plan, so that the page can say what the change did. While
 * something is dragged, 'before' is the plan as it stood when the drag began.
 */
export class LastChange {
  #settled = $state.raw<Answer | null>(null);
  #before = $state.raw<Answer | null>(null);

  /** The answer to compare with one for `shown`; null when there is none yet. */
  beforeOf(shown: Plan): DrainageResult | null {
    if (this.#settled === null) return null;
    return shown === this.#settled.plan ? (this.#before?.result ?? null) : this.#settled.result;
  }

  /** Takes note of an answer for the plan as it stands; answers for drafts are not kept. */
  settle(plan: Plan, result: DrainageResult): void {
    if (this.#settled?.plan === plan) {
      this.#settled = { plan, result };
      return;
    }
    this.#before = this.#settled;
    this.#settled = { plan, result };
  }

  /** Another lot, or other ground: nothing to compare with. */
  forget(): void {
    this.#before = null;
    this.#settled = null;
  }
}
