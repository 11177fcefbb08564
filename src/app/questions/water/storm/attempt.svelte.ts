import { InputError } from '../../../../../lib/errors';

/** A change that may turn out impossible, and what was wrong with the last one tried. */
export class Attempt {
  complaint = $state<string | null>(null);

  run(change: () => void): void {
    this.complaint = null;
    try {
      change();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      this.complaint = error.message;
    }
  }
}
