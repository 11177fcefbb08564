import { throwIfCancelled, type Progress } from '../errors';

/** How far work has come. */
export interface Step {
  readonly fraction: number;
  readonly stage: string;
}

/** Work done in steps: between two of them it can be told on, stopped, or made to let others in. */
export type Steps<T> = Generator<Step, T, void>;

export interface StepOptions {
  /** Checked between steps. */
  readonly signal?: AbortSignal;
  readonly onProgress?: Progress;
}

/**
 * Takes all steps without a break.
 *
 * @throws {Cancelled}
 */
export function atOnce<T>(steps: Steps<T>, { signal, onProgress }: StepOptions = {}): T {
  for (;;) {
    throwIfCancelled(signal);
    const next = steps.next();
    if (next.done === true) return next.value;
    onProgress?.(next.value.fraction, next.value.stage);
  }
}

/**
 * Takes the steps one by one and lets others in between, so that word to stop can arrive.
 *
 * @param pause - settles when the work may go on; may settle at once where the last pause is not long past.
 * @throws {Cancelled}
 */
export async function withPauses<T>(
  steps: Steps<T>,
  pause: () => Promise<void>,
  { signal, onProgress }: StepOptions = {},
): Promise<T> {
  for (;;) {
    throwIfCancelled(signal);
    const next = steps.next();
    if (next.done === true) return next.value;
    onProgress?.(next.value.fraction, next.value.stage);
    await pause();
  }
}

/** Steps of a part of some work, their fractions between those at which the part begins and ends. */
export function* partOf<T>(steps: Steps<T>, from: number, to: number): Steps<T> {
  for (;;) {
    const next = steps.next();
    if (next.done === true) return next.value;
    const { fraction, stage } = next.value;
    yield { fraction: from + fraction * (to - from), stage };
  }
}
