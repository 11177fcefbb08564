import type { Remote } from 'comlink';
import type { FrameSpec } from '../../../../lib/frame/frame';
import type { Plan } from '../../../../lib/plan/schema';
import type { AnalysisApi, Ended } from '../../worker/analysis-api';
import type { DigZones } from '../../worker/dig-zones';
import type { KeepClear } from '../../worker/keep-clear';
import { Answer } from '../tasks/answer.svelte';
import type { Tasks } from '../tasks/tasks.svelte';

/** A plan in a frame, as zones are asked about. */
interface FrameQuestion {
  readonly plan: Plan;
  readonly frame: FrameSpec;
}

/** Zones of a plan that need no ground. */
export class Zones {
  readonly #tasks: Tasks;
  readonly #worker: () => Remote<AnalysisApi>;
  readonly #keepClear = new Answer<FrameQuestion, KeepClear>();
  readonly #digZones = new Answer<FrameQuestion, DigZones>();

  constructor(tasks: Tasks, worker: () => Remote<AnalysisApi>) {
    this.#tasks = tasks;
    this.#worker = worker;
  }

  /** Keep-clear zones of the plan's rule set. */
  get keepClear(): KeepClear | null {
    return this.#keepClear.current;
  }

  /** Computes the keep-clear zones of the plan's rule set. */
  askKeepClear(plan: Plan, frame: FrameSpec | null): void {
    this.#ask('Drawing keep-clear zones', this.#keepClear, { plan, frame }, (task, spec) =>
      this.#worker().keepClear(task, plan, spec),
    );
  }

  /** The ground to be dug and the zones of hand digging along lines. */
  get digZones(): DigZones | null {
    return this.#digZones.current;
  }

  /** Computes the ground to be dug and the zones of hand digging along lines. */
  askDigZones(plan: Plan, frame: FrameSpec | null, today: string): void {
    const stage = 'Outlining the ground to be dug';
    this.#ask(stage, this.#digZones, { plan, frame }, (task, spec) =>
      this.#worker().digZones(task, plan, spec, today),
    );
  }

  /** Asks for what needs no ground; without a frame there is none. */
  #ask<T>(
    stage: string,
    answer: Answer<FrameQuestion, T>,
    { plan, frame }: { readonly plan: Plan; readonly frame: FrameSpec | null },
    call: (task: number, frame: FrameSpec) => Promise<Ended<T>>,
  ): void {
    if (frame === null) {
      answer.forget();
      return;
    }
    const ticket = answer.ask({ plan, frame });
    this.#tasks.latest(stage, async () => {
      const outcome = await this.#tasks.run(stage, (task) => call(task, frame));
      if (outcome.how === 'done') answer.take(ticket, outcome.value);
      else answer.end(ticket);
    });
  }

  /** Takes all off the sheet. */
  forget(): void {
    this.#keepClear.forget();
    this.#digZones.forget();
  }
}
