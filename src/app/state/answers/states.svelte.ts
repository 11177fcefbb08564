import type { DifferenceDoubt } from '../../../../lib/drainage/certainty/difference-doubt';
import type { ErrorModel } from '../../../../lib/drainage/height-error/error-field';
import type { Plan } from '../../../../lib/plan/schema';
import type { ExistingState } from '../../worker/analysis-api';
import { Answer } from '../tasks/answer.svelte';
import type { GroundQuestion, GroundTasks } from '../tasks/ground-tasks';

/** The plan as it stands today, for a plan in which something is to come or to go; never shown beside another plan. */
export class States {
  readonly #ground: GroundTasks;
  readonly #existing = new Answer<GroundQuestion, ExistingState>();
  readonly #doubt = new Answer<GroundQuestion, ReadonlyMap<string, DifferenceDoubt>>();

  constructor(ground: GroundTasks) {
    this.#ground = ground;
  }

  /** The answer for a plan as it stands today; null while it is not there. */
  existingOf(plan: Plan): ExistingState | null {
    return this.#existing.of?.plan === plan ? this.#existing.value : null;
  }

  /** How far the error of the heights moves each difference of a plan, by `figureKey`; null while that is not known. */
  doubtOf(plan: Plan): ReadonlyMap<string, DifferenceDoubt> | null {
    return this.#doubt.of?.plan === plan ? this.#doubt.value : null;
  }

  /** Whether the answer for this plan was stopped or refused. */
  isLeftOpen(plan: Plan): boolean {
    return this.#existing.isLeftOpen && this.#existing.asked?.plan === plan;
  }

  /** Whether the doubt of this plan is being worked out. */
  isTrying(plan: Plan): boolean {
    return this.#doubt.isOpen && this.#doubt.asked?.plan === plan;
  }

  /** Asks for the answer as it stands today, unless that has been asked for already. */
  ask(plan: Plan): void {
    if (this.#existing.asked?.plan !== plan) this.again(plan);
  }

  /** Asks for it once more. */
  again(plan: Plan): void {
    this.#ground.ask(
      'existing',
      'Following the water as it stands today',
      this.#existing,
      this.#ground.on(plan),
      ({ worker, task, asked, onProgress }) => worker.existing(task, asked, onProgress),
    );
  }

  /** @param uptakeM3 - what each basin that will be there takes in while it rains. */
  askDoubt(plan: Plan, uptakeM3: ReadonlyMap<string, number>, errors: ErrorModel): void {
    this.#ground.ask(
      'difference-doubt',
      'Trying both states on equally likely surfaces',
      this.#doubt,
      this.#ground.on(plan),
      ({ worker, task, asked, onProgress }) =>
        worker.differenceDoubt(task, asked, uptakeM3, errors, onProgress),
    );
  }

  /** The ground is another. */
  forget(): void {
    this.#existing.forget();
    this.#doubt.forget();
  }
}
