import { wrap, type Remote } from 'comlink';
import type { CertaintyResult } from '../../../lib/drainage/certainty/certainty-result';
import { untilSettled } from '../../../lib/drainage/certainty/certainty-rounds';
import type { Tallies } from '../../../lib/drainage/certainty/certainty-tallies';
import { Cancelled, throwIfCancelled, type Progress } from '../../../lib/errors';
import type { CertaintyApi, CertaintyQuestion } from './certainty-api';
import { whenLost } from './when-lost';

/** Workers that share the surfaces: one for each batch of a round. */
const workers = 2;

type StartWorker = (onLost: () => void) => Remote<CertaintyApi>;

/** What a finished study says, and how often water stood on each cell. */
export interface CertaintyAnswer {
  readonly result: CertaintyResult;
  readonly tallies: Tallies;
}

/** Two workers for studies of certainty, beside the one that answers everything else. */
export class CertaintyPool {
  readonly #start: StartWorker;
  #remotes: readonly Remote<CertaintyApi>[] = [];
  /** Ends the study that is being run, for a worker is gone. */
  #lose: () => void = () => undefined;

  /** @param start - starts a worker, and calls back when it is lost. */
  constructor(start: StartWorker = startWorker) {
    this.#start = start;
  }

  /** Starts the workers, which the first question does as well: called when one is likely to come soon. */
  getReady(): void {
    if (this.#remotes.length > 0) return;
    this.#remotes = Array.from({ length: workers }, () =>
      this.#start(() => {
        this.#remotes = [];
        this.#lose();
      }),
    );
  }

  /**
   * Runs a study until it is settled; see `untilSettled`. One at a time.
   *
   * @throws {Cancelled} soon after the signal. @throws {Error} when a worker is lost; the next study starts others.
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
    const lost = new Promise<never>((_, reject) => {
      this.#lose = () => {
        reject(new Error('a worker broke off, perhaps for want of memory'));
      };
    });
    const isThere = <T>(work: Promise<T>): Promise<T> => Promise.race([work, lost]);
    lost.catch(() => undefined);
    signal.addEventListener('abort', stop);
    try {
      onProgress(0, 'Reading the ground again');
      await isThere(Promise.all(remotes.map((remote) => remote.prepare(question))));
      throwIfCancelled(signal);
      let next = 0;
      const tallies = await untilSettled(
        async (from, to) => {
          const part = await isThere(remotes[next++ % remotes.length].run(from, to));
          if (part === null) throw new Cancelled();
          return part;
        },
        { signal, onProgress },
      );
      return { tallies, result: await isThere(remotes[0].summarise(tallies)) };
    } finally {
      signal.removeEventListener('abort', stop);
    }
  }
}

function startWorker(onLost: () => void): Remote<CertaintyApi> {
  const worker = new Worker(new URL('./certainty.worker.ts', import.meta.url), { type: 'module' });
  return wrap<CertaintyApi>(whenLost(worker, onLost));
}
