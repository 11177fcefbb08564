import { wrap, type Remote } from 'comlink';
import type { CertaintyResult } from '../../../lib/drainage/certainty-result';
import { untilSettled } from '../../../lib/drainage/certainty-rounds';
import type { Tallies } from '../../../lib/drainage/certainty-tallies';
import { Cancelled, throwIfCancelled, type Progress } from '../../../lib/errors';
import type { CertaintyApi, CertaintyQuestion } from './certainty-api';

/** Workers that share the surfaces: one for each batch of a round. */
const workers = 2;

/** What a finished study says, and how often water stood on each cell. */
export interface CertaintyAnswer {
  readonly result: CertaintyResult;
  readonly tallies: Tallies;
}

/** Two workers for studies of certainty, beside the one that answers everything else. */
export class CertaintyPool {
  #remotes: readonly Remote<CertaintyApi>[] = [];

  /** Starts the workers, which the first question does as well: called when one is likely to come soon. */
  getReady(): void {
    if (this.#remotes.length === 0) this.#remotes = Array.from({ length: workers }, startWorker);
  }

  /**
   * Runs a study until it is settled; see `untilSettled`. One at a time.
   *
   * @throws {Cancelled} soon after the signal.
   */
  async ask(
    question: CertaintyQuestion,
    options: { readonly signal: AbortSignal; readonly onProgress: Progress },
  ): Promise<CertaintyAnswer> {
    const { signal, onProgress } = options;
    this.getReady();
    const remotes = this.#remotes;
    const stop = (): void => {
      for (const remote of remotes) void remote.stop();
    };
    signal.addEventListener('abort', stop);
    try {
      onProgress(0, 'Reading the ground again');
      await Promise.all(remotes.map((remote) => remote.prepare(question)));
      throwIfCancelled(signal);
      let next = 0;
      const tallies = await untilSettled(
        async (from, to) => {
          const part = await remotes[next++ % remotes.length].run(from, to);
          if (part === null) throw new Cancelled();
          return part;
        },
        { signal, onProgress },
      );
      return { tallies, result: await remotes[0].summarise(tallies) };
    } finally {
      signal.removeEventListener('abort', stop);
    }
  }
}

function startWorker(): Remote<CertaintyApi> {
  return wrap<CertaintyApi>(
    new Worker(new URL('./certainty.worker.ts', import.meta.url), { type: 'module' }),
  );
}
