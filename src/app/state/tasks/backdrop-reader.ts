import type { Remote } from 'comlink';
import type { Plan } from '../../../../lib/plan/schema';
import type { AnalysisApi, BackdropPicture } from '../../worker/analysis-api';
import type { Tasks } from './tasks.svelte';

/** Reads photographs and rasters of heights that are laid under the drawing. */
export class BackdropReader {
  readonly #tasks: Tasks;
  readonly #worker: () => Remote<AnalysisApi>;

  constructor(tasks: Tasks, worker: () => Remote<AnalysisApi>) {
    this.#tasks = tasks;
    this.#worker = worker;
  }

  /** Reads a file around a plan's lot; null when it cannot be used, which has then been told. */
  async read(file: File, plan: Plan): Promise<BackdropPicture | null> {
    const source = { name: file.name, blob: file };
    const outcome = await this.#tasks.run('Reading what lies under the drawing', (task) =>
      this.#worker().backdrop(task, source, plan),
    );
    return outcome.how === 'done' ? outcome.value : null;
  }
}
