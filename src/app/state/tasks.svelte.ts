import { proxy, type ProxyMarked } from 'comlink';
import { InputError, type Progress } from '../../../lib/errors';
import type { Ended } from '../worker/analysis-api';

/** How far the present task has come. */
export interface Busy {
  readonly task: number;
  readonly stage: string;
  readonly fraction: number;
}

/** The tasks given to the worker: which one is shown with its progress, and which waits for which. */
export class Tasks {
  busy = $state.raw<Busy | null>(null);

  readonly #complain: (sentence: string) => void;
  readonly #cancel: (task: number) => void;
  readonly #running = new Set<string>();
  readonly #wanted = new Map<string, () => void>();
  #next = 1;

  /** @param cancel - tells the worker to stop a task. */
  constructor(complain: (sentence: string) => void, cancel: (task: number) => void) {
    this.#complain = complain;
    this.#cancel = cancel;
  }

  /** A number for a task that no other has. */
  next(): number {
    return this.#next++;
  }

  /** Runs one task in the worker, with its progress shown; a problem is told and answered by null. */
  async run<T>(
    stage: string,
    call: (task: number, onProgress: Progress & ProxyMarked) => Promise<Ended<T>>,
  ): Promise<T | null> {
    const task = this.next();
    this.busy = { task, stage, fraction: 0 };
    try {
      const ended = await call(task, this.#progressOf(task));
      if (ended.ok) return ended.value;
      if (ended.problem !== null) this.#complain(new InputError(ended.problem).message);
      return null;
    } catch (error) {
      this.#complain(
        `Lotfall itself failed at this: ${error instanceof Error ? error.message : String(error)}.`,
      );
      return null;
    } finally {
      // Another may have taken its place meanwhile.
      if (this.busy?.task === task) this.busy = null;
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

  /** Stops the present task; what it would have replaced stays. */
  stop(): void {
    if (this.busy !== null) this.#cancel(this.busy.task);
  }

  #progressOf(task: number): Progress & ProxyMarked {
    return proxy((fraction: number, stage: string) => {
      if (this.busy?.task === task) this.busy = { task, stage, fraction };
    });
  }
}
