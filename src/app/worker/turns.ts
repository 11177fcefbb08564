/** Work goes on for so long before others are let in, milliseconds. */
const mostMs = 30;

/**
 * Lets messages in when work has gone on for long; settles at once when it has not.
 *
 * @returns a pause for one piece of work, see `withPauses`.
 */
export function pauseNowAndThen(): () => Promise<void> {
  let last = performance.now();
  return async () => {
    if (performance.now() - last < mostMs) return;
    await new Promise((resolve) => setTimeout(resolve, 0));
    last = performance.now();
  };
}

/** Runs pieces of work one after the other, in the order asked for: they share buffers. */
export class Turns {
  #last: Promise<unknown> = Promise.resolve();

  take<T>(work: () => Promise<T>): Promise<T> {
    const mine = this.#last.then(work, work);
    this.#last = mine.catch(() => undefined);
    return mine;
  }
}
