import { proxy, type ProxyMarked } from 'comlink';
import { InputError, type InputProblem, type Progress } from '../../../../lib/errors';
import type { Ended } from '../../worker/analysis-api';

/** How far a task has come. */
export interface Busy {
  readonly task: number;
  readonly stage: string;
  readonly fraction: number;
}

/** Tells the user something in a sentence; with it comes the mistake of ours that it tells of. */
export type Complain = (sentence: string, fault?: unknown) => void;

/** How a task ended: with a value, refused for what the user gave, stopped on demand, or failed by our own fault. */
export type Outcome<T> =
  | { readonly how: 'done'; readonly value: T }
  | { readonly how: 'refused'; readonly problem: InputProblem }
  | { readonly how: 'stopped' }
  | { readonly how: 'failed' };

/** The tasks given to the worker: which one is shown with its progress, and which waits for which. */
export class Tasks {
  /** Those that are running, the latest last. */
  #busy = $state.raw<readonly Busy[]>([]);

  readonly #complain: Complain;
  readonly #cancel: (task: number) => void;
  /** Ends those that are running, for the worker is gone. */
  readonly #ends = new Map<number, () => void>();
  readonly #running = new Set<string>();
  readonly #wanted = new Map<string, () => void>();
  #next = 1;

  /** @param cancel - tells the worker to stop a task. */
  constructor(complain: Complain, cancel: (task: number) => void) {
    this.#complain = complain;
    this.#cancel = cancel;
  }

  /** How far the task that began last has come. */
  get busy(): Busy | null {
    return this.#busy.at(-1) ?? null;
  }

  /**
   * Runs one task in the worker, with its progress shown.
   *
   * @param stage - null for a task of which the user need not hear.
   * @param isTold - whether what the worker refuses is told to the user here; our own faults always are.
   */
  async run<T>(
    stage: string | null,
    call: (task: number, onProgress: Progress & ProxyMarked) => Promise<Ended<T>>,
    isTold: (problem: InputProblem) => boolean = () => true,
  ): Promise<Outcome<T>> {
    const task = this.#next++;
    if (stage !== null) this.#busy = [...this.#busy, { task, stage, fraction: 0 }];
    const lost = new Promise<null>((resolve) => {
      this.#ends.set(task, () => {
        resolve(null);
      });
    });
    try {
      const ended = await Promise.race([call(task, this.#progressOf(task)), lost]);
      if (ended === null) return { how: 'failed' };
      if (ended.ok) return { how: 'done', value: ended.value };
      if (ended.problem === null) return { how: 'stopped' };
      if (stage !== null && isTold(ended.problem))
        this.#complain(new InputError(ended.problem).message);
      return { how: 'refused', problem: ended.problem };
    } catch (error) {
      this.#complain(failureWords(error), error);
      return { how: 'failed' };
    } finally {
      this.#ends.delete(task);
      this.#busy = this.#busy.filter((other) => other.task !== task);
    }
  }

  /** Runs work of one kind at a time; of what is asked for meanwhile only the last is done afterwards. */
  latest(kind: string, work: () => Promise<void>): void {
    if (this.#running.has(kind)) {
      this.#wanted.set(kind, () => {
        this.latest(kind, work);
      });
      return;
    }
    this.#running.add(kind);
    void work().finally(() => {
      this.#running.delete(kind);
      const next = this.#wanted.get(kind);
      this.#wanted.delete(kind);
      next?.();
    });
  }

  /** Stops the task that is shown; what it would have replaced stays. */
  stop(): void {
    const shown = this.busy;
    if (shown !== null) this.#cancel(shown.task);
  }

  /** Ends all that are running as failed: the worker will not answer any more. */
  lose(): void {
    this.#wanted.clear();
    for (const end of [...this.#ends.values()]) end();
  }

  #progressOf(task: number): Progress & ProxyMarked {
    return proxy((fraction: number, stage: string) => {
      this.#busy = this.#busy.map((other) =>
        other.task === task ? { task, stage, fraction } : other,
      );
    });
  }
}

/** A mistake of ours in a sentence. */
export function failureWords(error: unknown): string {
  return `Lotfall itself failed at this: ${error instanceof Error ? error.message : String(error)}.`;
}
