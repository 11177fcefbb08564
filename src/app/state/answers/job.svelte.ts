import type { ExportFormat } from '../../../../lib/handover/export/export-formats';
import type { JobDocuments } from '../../../../lib/handover/job/job-documents';
import type { Plan } from '../../../../lib/plan/schema';
import { Answer } from '../tasks/answer.svelte';
import type { GroundQuestion, GroundTasks } from '../tasks/ground-tasks';
import type { Tasks } from '../tasks/tasks.svelte';
import type { Remote } from 'comlink';
import type { AnalysisApi, GroundPicture } from '../../worker/analysis-api';

/** What leads from the plan to a dug garden: orders, steps, plants; and the plan as files of other programs. */
export class Job {
  readonly #ground: GroundTasks;
  readonly #tasks: Tasks;
  readonly #worker: () => Remote<AnalysisApi>;
  readonly #documents = new Answer<GroundQuestion, JobDocuments>();

  constructor(ground: GroundTasks, tasks: Tasks, worker: () => Remote<AnalysisApi>) {
    this.#ground = ground;
    this.#tasks = tasks;
    this.#worker = worker;
  }

  /** The last documents that were worked out; of whatever plan. */
  get documents(): JobDocuments | null {
    return this.#documents.current;
  }

  /** Whether the documents are those of a plan. */
  isOf(plan: Plan): boolean {
    return this.#documents.of?.plan === plan;
  }

  /** Works out the documents of a plan, unless they are there or on their way. */
  ask(plan: Plan, today: string): void {
    if (this.#documents.asked?.plan === plan) return;
    this.#ground.ask(
      'job',
      'Working out orders and steps',
      this.#documents,
      this.#ground.on(plan),
      ({ worker, task, asked }) => worker.job(task, asked, today),
    );
  }

  /** A plan as a file of another program; null where it could not be written. */
  async exported(
    plan: Plan,
    ground: GroundPicture | null,
    format: ExportFormat,
  ): Promise<string | Uint8Array | null> {
    const outcome = await this.#tasks.run('Writing the file', (task) =>
      this.#worker().exported(task, { plan, ground: ground?.number ?? null }, format),
    );
    return outcome.how === 'done' ? outcome.value : null;
  }

  forget(): void {
    this.#documents.forget();
  }
}
