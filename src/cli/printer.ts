/** Where a run of the command line prints. */
export interface Printer {
  /** What was asked for: text or JSON as it stands. */
  readonly print: (text: string) => unknown;
  /** A sentence about what went wrong, or how to call. */
  readonly fault: (text: string) => unknown;
  /** How far long work is, from 0 to 1, and what is being done. */
  readonly progress: (fraction: number, stage: string) => void;
  /** The work is over: what was shown of it goes. */
  readonly done: () => void;
}

/** The process's own streams. Progress is shown where a person sits before them. */
export function streamsOfProcess(): Printer {
  stopWhenNobodyReads();
  let isShown = false;
  return {
    print: (text) => process.stdout.write(text),
    fault: (text) => process.stderr.write(text),
    progress: (fraction, stage) => {
      if (!process.stderr.isTTY) return;
      isShown = true;
      process.stderr.write(`\r\u001b[K${Math.round(fraction * 100)} % ${stage}`);
    },
    done: () => {
      if (isShown) process.stderr.write('\r\u001b[K');
      isShown = false;
    },
  };
}

/** A reader such as `head` may close the pipe early; that is no fault. */
function stopWhenNobodyReads(): void {
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
    process.exit();
  });
}
