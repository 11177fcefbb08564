import type { CertaintyResult } from '../../../lib/drainage/certainty/certainty-result';
import type { Tallies } from '../../../lib/drainage/certainty/certainty-tallies';
import type { ErrorModel } from '../../../lib/drainage/height-error/error-field';
import type { Grid } from '../../../lib/elevation/grid';
import type { Plan } from '../../../lib/plan/schema';

/** What a certainty worker is given once, before it runs surfaces. */
export interface CertaintyQuestion {
  readonly grid: Grid;
  readonly plan: Plan;
  readonly rainMm: number;
  readonly errors: ErrorModel;
  readonly seed: number;
}

/** What a certainty worker does. The last question prepared is the one that counts. */
export interface CertaintyApi {
  prepare: (question: CertaintyQuestion) => Promise<void>;
  /** Tallies of surfaces `from` up to but without `to`; null when stopped. */
  run: (from: number, to: number) => Promise<Tallies | null>;
  summarise: (tallies: Tallies) => Promise<CertaintyResult>;
  /** Stops what is being run, within a few surfaces. */
  stop: () => void;
}
