import type { ProxyMarked, Remote } from 'comlink';
import type { Progress } from '../../../../lib/errors';
import type { Plan } from '../../../../lib/plan/schema';
import type {
  AnalysisApi,
  Ended,
  GroundPicture,
  MadeFrom,
  PlanOnGround,
} from '../../worker/analysis-api';
import type { Answer } from './answer.svelte';
import type { Outcome, Tasks } from './tasks.svelte';

/** A plan on a ground, as something is asked of them. */
export interface GroundQuestion {
  readonly ground: GroundPicture;
  readonly plan: Plan;
}

/** What a task is called with. */
export interface GroundCall {
  readonly worker: Remote<AnalysisApi>;
  readonly task: number;
  readonly asked: PlanOnGround;
  readonly onProgress: Progress & ProxyMarked;
}

/** The ground on the sheet and the worker that knows it. */
interface GroundPort {
  ground(): GroundPicture | null;
  worker(): Remote<AnalysisApi>;
}

/**
 * Asks the worker about plans on the ground that is on the sheet. An answer is taken only when the worker made it from
 * the very ground and plan that were asked about, and that ground is still on the sheet.
 */
export class GroundTasks {
  readonly #tasks: Tasks;
  readonly #port: GroundPort;
  readonly #versions = new WeakMap<Plan, number>();
  #lastVersion = 0;

  constructor(tasks: Tasks, port: GroundPort) {
    this.#tasks = tasks;
    this.#port = port;
  }

  /** A plan on the ground that is on the sheet; null without ground. */
  on(plan: Plan): GroundQuestion | null {
    const ground = this.#port.ground();
    return ground === null ? null : { ground, plan };
  }

  /**
   * Puts a question; of one kind only one is worked on at a time, and of what is asked meanwhile only the last
   * afterwards.
   *
   * @param question - null without ground: then nothing is asked.
   * @param stage - null for a task of which the user need not hear.
   * @param onTaken - called after an answer was taken, in the same turn.
   */
  ask<Q extends GroundQuestion, T>(
    kind: string,
    stage: string | null,
    answer: Answer<Q, T>,
    question: Q | null,
    call: (call: GroundCall) => Promise<Ended<MadeFrom<T>>>,
    onTaken: (value: T) => void = () => undefined,
  ): void {
    if (question === null) return;
    const { ground, plan } = question;
    const ticket = answer.ask(question);
    this.#tasks.latest(kind, async () => {
      if (this.#port.ground() !== ground) {
        answer.end(ticket);
        return;
      }
      const asked = { ground: ground.number, version: this.#versionOf(plan), plan };
      const outcome = await this.#tasks.run(stage, (task, onProgress) =>
        call({ worker: this.#port.worker(), task, asked, onProgress }),
      );
      const made = madeFrom(outcome, asked);
      if (made === null || this.#port.ground() !== ground) answer.end(ticket);
      else if (answer.take(ticket, made.answer)) onTaken(made.answer);
    });
  }

  #versionOf(plan: Plan): number {
    const known = this.#versions.get(plan);
    if (known !== undefined) return known;
    const version = ++this.#lastVersion;
    this.#versions.set(plan, version);
    return version;
  }
}

/** What was made from the ground and plan that were asked about; null for no answer, or one of others. */
function madeFrom<T>(outcome: Outcome<MadeFrom<T>>, asked: PlanOnGround): MadeFrom<T> | null {
  if (outcome.how !== 'done') return null;
  const { value } = outcome;
  return value.ground === asked.ground && value.version === asked.version ? value : null;
}
