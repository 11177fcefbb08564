import { throwIfCancelled, type Progress } from '../../errors';

/** Work this long without letting others run, milliseconds. */
const sliceMs = 30;

/** Keeps a long task from holding up others: reports how far it is, lets them run, and stops when asked to. */
export class Pace {
  #sliceStart = Date.now();
  readonly #signal: AbortSignal | undefined;
  readonly #onProgress: Progress | undefined;

  constructor(signal: AbortSignal | undefined, onProgress: Progress | undefined) {
    this.#signal = signal;
    this.#onProgress = onProgress;
  }

  /** To be called often. @throws {Cancelled} */
  async at(fraction: number, stage: string): Promise<void> {
    throwIfCancelled(this.#signal);
    if (Date.now() - this.#sliceStart < sliceMs) return;
    this.#onProgress?.(Math.min(1, fraction), stage);
    await new Promise((resolve) => setTimeout(resolve, 0));
    this.#sliceStart = Date.now();
    throwIfCancelled(this.#signal);
  }
}
