import type { Remote } from 'comlink';
import type { InputProblem } from '../../../../lib/errors';
import type { Plan } from '../../../../lib/plan/schema';
import type {
  AnalysisApi,
  Ended,
  GroundPicture,
  OpenedElevation,
  PageSource,
} from '../../worker/analysis-api';
import type { Outcome, Tasks } from './tasks.svelte';

/** An elevation file that has been opened, as the page and as the worker know it. */
export interface PageElevation {
  readonly source: PageSource;
  readonly opened: OpenedElevation;
}

/** Ground that was read from an elevation file. */
export interface ReadGround {
  readonly elevation: PageElevation;
  readonly verticalUnitM: number | null;
  readonly picture: GroundPicture;
}

type TaskProgress = Parameters<Parameters<Tasks['run']>[1]>[1];

/** Opens elevation files and reads ground from them. */
export class ElevationReader {
  readonly #tasks: Tasks;
  readonly #worker: () => Remote<AnalysisApi>;
  /** The task that opens or reads elevation. */
  #reading: number | null = null;

  constructor(tasks: Tasks, worker: () => Remote<AnalysisApi>) {
    this.#tasks = tasks;
    this.#worker = worker;
  }

  /** Opens an elevation file; null when it cannot be used, which has then been told. */
  async open(source: PageSource): Promise<PageElevation | null> {
    const outcome = await this.#read('Opening elevation', (task) =>
      this.#worker().openElevation(task, source),
    );
    return outcome.how === 'done' ? { source, opened: outcome.value } : null;
  }

  /**
   * Reads the ground around a plan; what is on the sheet stays until the ground that was read is shown.
   *
   * @param isTold - whether what the worker refuses is told to the user here.
   */
  async read(
    elevation: PageElevation,
    plan: Plan,
    verticalUnitM: number | null,
    isTold?: (problem: InputProblem) => boolean,
  ): Promise<Outcome<ReadGround>> {
    const from = { file: elevation.opened.file, verticalUnitM };
    const outcome = await this.#read(
      'Reading ground',
      (task, onProgress) => this.#worker().survey(task, from, plan, onProgress),
      isTold,
    );
    if (outcome.how !== 'done') return outcome;
    return { how: 'done', value: { elevation, verticalUnitM, picture: outcome.value } };
  }

  /** Stops opening and reading, for another elevation is wanted by now. */
  stop(): void {
    if (this.#reading !== null) void this.#worker().cancel(this.#reading);
  }

  async #read<T>(
    stage: string,
    call: (task: number, onProgress: TaskProgress) => Promise<Ended<T>>,
    isTold?: (problem: InputProblem) => boolean,
  ): Promise<Outcome<T>> {
    return this.#tasks.run(
      stage,
      async (task, onProgress) => {
        this.#reading = task;
        try {
          return await call(task, onProgress);
        } finally {
          if (this.#reading === task) this.#reading = null;
        }
      },
      isTold,
    );
  }
}
