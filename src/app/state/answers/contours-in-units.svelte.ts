import type { Plan } from '../../../../lib/plan/schema';
import type { UnitSystem } from '../../../../lib/units/units';
import type { ContourLine } from '../../worker/analysis-api';
import { Answer } from '../tasks/answer.svelte';
import type { GroundQuestion, GroundTasks } from '../tasks/ground-tasks';

/** Contours of the ground on the sheet at round heights in the units of the plan, drawn anew when those change. */
export class ContoursInUnits {
  readonly #ground: GroundTasks;
  readonly #drawn = new Answer<GroundQuestion, ContourLine[]>();

  constructor(ground: GroundTasks) {
    this.#ground = ground;
  }

  /** Those of a plan's units; while they are not there, those that the ground came with. */
  of(plan: Plan): readonly ContourLine[] {
    const question = this.#ground.on(plan);
    if (question === null) return [];
    const { ground } = question;
    const { of, value } = this.#drawn;
    if (value === null || ground.contourUnits === unitsOf(plan)) return ground.contours;
    return of !== null && unitsOf(of.plan) === unitsOf(plan) ? value : ground.contours;
  }

  /** Asks for those of a plan's units, unless they are there or on their way. */
  ask(plan: Plan): void {
    const question = this.#ground.on(plan);
    if (question === null || question.ground.contourUnits === unitsOf(plan)) return;
    const { asked, isLeftOpen } = this.#drawn;
    if (asked !== null && !isLeftOpen && unitsOf(asked.plan) === unitsOf(plan)) return;
    this.#ground.ask('contours', null, this.#drawn, question, (call) =>
      call.worker.contours(call.task, call.asked),
    );
  }

  /** The ground is another. */
  forget(): void {
    this.#drawn.forget();
  }
}

function unitsOf({ lotfall }: Plan): UnitSystem {
  return lotfall.units ?? 'metric';
}
