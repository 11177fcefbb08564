import type { XY } from '../frame/frame';
import type { PlanFeature } from '../plan/schema';
import type { Source } from '../source';
import type { Verdict } from '../verdict';

/** What is done, by the trade's verbs. */
export type RemedyVerb =
  | 'move-outlet'
  | 'grade-away'
  | 'lead-off'
  | 'turn-aside'
  | 'fill-hollow'
  | 'below-ground'
  | 'hold'
  | 'move-sump';

/** Where water that is led away ends. */
export interface PartEnd {
  readonly to: 'basin' | 'street' | 'back-swale' | 'own-ground' | 'storm-sewer';
  /** Id of the basin or swale; `null` for the others. */
  readonly feature: string | null;
}

/** What a rule, or leave that has to be asked for, says of a remedy. */
export interface RemedyRule {
  readonly rule: string;
  readonly result: Verdict;
  /** One sentence. */
  readonly why: string;
  readonly source: Source | null;
}

/** One thing that can be done, as features of the plan. */
export interface Part {
  /** Names it within one answer; the same plan and ground give the same. */
  readonly key: string;
  readonly verb: RemedyVerb;
  /** The water that it is for, or `null` where it holds back what others send on. */
  readonly hollow: string | null;
  readonly endsIn: PartEnd | null;
  /** What to put into the plan, new or in the place of what has the same id. */
  readonly puts: readonly PlanFeature[];
  readonly deletes: readonly string[];
  /** Where it is dug as a line, local metres; empty where it is none. */
  readonly route: readonly XY[];
  readonly lengthM: number;
  /** Of the bed or the pipe below the ground, metres. */
  readonly deepestM: number;
  /** Earth that a trench takes out and gets back, m3; what is dug as ground, the ground counts. */
  readonly trenchM3: number;
  /** What can be said of it before any water is poured. */
  readonly rules: readonly RemedyRule[];
  /** Figures that its sentence wants, by name. */
  readonly figures: Readonly<Record<string, number | string>>;
  /** The feature that it is about: a downspout, a building, a basin; `null` for none. */
  readonly about: string | null;
}

/** One id for each new feature: whatever the plan has already, and whatever is taken into it later. */
export function newId(taken: ReadonlyMap<string, unknown>, wanted: string): string {
  for (let at = 1; ; at++) {
    const id = at === 1 ? wanted : `${wanted}-${at}`;
    if (!taken.has(id)) return id;
  }
}
