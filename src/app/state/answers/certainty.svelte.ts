import type { CertaintyResult } from '../../../../lib/drainage/certainty/certainty-result';
import { errorsOf } from '../../../../lib/drainage/height-error/error-defaults';
import type { ErrorModel } from '../../../../lib/drainage/height-error/error-field';
import type { Grid } from '../../../../lib/elevation/grid';
import { Cancelled, InputError, throwIfCancelled } from '../../../../lib/errors';
import type { Plan } from '../../../../lib/plan/schema';
import { eventDepthMm } from '../../../../lib/storm/event-depth';
import type { CertaintyPool } from '../../worker/certainty-pool';
import { failureWords, type Complain } from '../tasks/tasks.svelte';

/** What the user may say of the error beside what the plan states; null is taken from the kind of data. */
export interface ErrorInputs {
  readonly shortM: number | null;
  readonly shortRangeM: number | null;
  readonly longRangeM: number | null;
}

/** The surfaces of every study, so that asking again gives the same answer. */
const seed = 1;

/** How sure the answers on the sheet are: the last study, and the one that is being run. */
export type Certainty = Readonly<CertaintyStore>;

export class CertaintyStore {
  result = $state.raw<CertaintyResult | null>(null);
  /** Share of the surfaces in which water stands on each cell. */
  probability = $state.raw<Float32Array | null>(null);
  /** Share of the surfaces in which each cell's water reaches a basin; null where the plan has none. */
  toBasin = $state.raw<Float32Array | null>(null);
  busy = $state.raw<{ readonly fraction: number; readonly stage: string } | null>(null);
  inputs = $state.raw<ErrorInputs>({ shortM: null, shortRangeM: null, longRangeM: null });

  readonly #pool: Pick<CertaintyPool, 'ask' | 'getReady'>;
  readonly #complain: Complain;
  #running: AbortController | null = null;
  #of = $state.raw<{
    readonly grid: Grid;
    readonly plan: Plan;
    readonly inputs: ErrorInputs;
  } | null>(null);

  constructor(complain: Complain, pool: Pick<CertaintyPool, 'ask' | 'getReady'>) {
    this.#complain = complain;
    this.#pool = pool;
  }

  /** Says of the error what the next study tries; a study on the sheet is then one of another error. */
  assume(inputs: Partial<ErrorInputs>): void {
    this.inputs = { ...this.inputs, ...inputs };
  }

  /** Whether the study on the sheet is of another plan, ground or error than these. */
  isStale(grid: Grid, plan: Plan): boolean {
    const of = this.#of;
    return of === null || of.plan !== plan || of.grid !== grid || of.inputs !== this.inputs;
  }

  /** Whether the study on the sheet is of this ground at all, so that its cells can be drawn. */
  isOf(grid: Grid): boolean {
    return this.#of?.grid === grid;
  }

  /** The error that a study of this plan would try. */
  errorsFor(grid: Grid, plan: Plan): ErrorModel {
    const rmseM = plan.lotfall.elevation?.rmse_m;
    const { shortM, shortRangeM, longRangeM } = this.inputs;
    return errorsOf(grid.cellM, {
      ...(rmseM === undefined ? {} : { rmseM }),
      ...(shortM === null ? {} : { shortM }),
      ...(shortRangeM === null ? {} : { shortRangeM }),
      ...(longRangeM === null ? {} : { longRangeM }),
    });
  }

  /** Runs a study; what is on the sheet stays until it is done. */
  async ask(grid: Grid, plan: Plan): Promise<void> {
    if (this.#running !== null) return;
    const controller = new AbortController();
    this.#running = controller;
    const { inputs } = this;
    const errors = this.errorsFor(grid, plan);
    const rainMm = eventDepthMm(plan.lotfall);
    try {
      const { result, tallies } = await this.#pool.ask(
        { grid, plan, rainMm, errors, seed },
        {
          signal: controller.signal,
          onProgress: (fraction, stage) => {
            if (this.#running === controller) this.busy = { fraction, stage };
          },
        },
      );
      // Word to stop may have come when the last surface was done.
      throwIfCancelled(controller.signal);
      this.result = result;
      const share = (counts: Uint16Array): Float32Array =>
        Float32Array.from(counts, (count) => count / result.surfaces);
      this.probability = share(tallies.wet);
      this.toBasin = tallies.of.basins === 0 ? null : share(tallies.toBasin);
      this.#of = { grid, plan, inputs };
    } catch (error) {
      if (error instanceof Cancelled) return;
      if (error instanceof InputError) this.#complain(error.message);
      else this.#complain(failureWords(error), error);
    } finally {
      this.busy = null;
      this.#running = null;
    }
  }

  /** Called when a question is likely to come soon. */
  getReady(): void {
    this.#pool.getReady();
  }

  /** Stops the study that is being run; the one on the sheet stays. */
  cancel(): void {
    this.#running?.abort();
  }
}
