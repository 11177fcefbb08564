import type { LngLat } from '../frame/frame';
import type { Change } from '../plan/change';
import type { PlanFeature } from '../plan/schema';
import type { Source } from '../source';
import type { Verdict } from '../verdict';
import type { PartEnd, RemedyVerb } from './part';

/** A figure as it is and as it would be. */
export interface BeforeAfter<T = number> {
  readonly before: T;
  readonly after: T;
}

/** An event in which remedies were tried. */
export interface EventRow {
  readonly kind: 'storm' | 'thaw';
  readonly rain_mm: number;
}

/** Water that stands near a wall of a building on the own lot, in one low spot. */
export interface FindingRow {
  readonly id: string;
  readonly building: string;
  readonly name: string;
  /** The low spot, named for where it lies. */
  readonly low_spot: string;
  readonly volume_m3: number;
  readonly depth_m: number;
  /** Length of wall that the water touches; 0 where it only stands within 3.05 m. */
  readonly wall_m: number;
  /** Most rain of the storm, spread as it is, up to which none stands there; to the millimetre. */
  readonly dry_to_mm: number;
  readonly at: LngLat;
  /** Whether the elevation's error may be all of it: then measuring comes first. */
  readonly doubtful: boolean;
}

export interface RuleRow {
  readonly rule: string;
  readonly result: Verdict;
  readonly why: string;
  readonly source: Source | null;
}

export interface PartRow {
  readonly remedy: RemedyVerb;
  readonly key: string;
  readonly low_spot: string | null;
  readonly ends_in: PartEnd | null;
  /** The feature that it is about: a downspout, a building, a basin. */
  readonly about: string | null;
  readonly length_m: number;
  readonly deepest_m: number;
  readonly figures: Readonly<Record<string, number | string>>;
  readonly adds: readonly PlanFeature[];
  /** Ids of features of the plan that it changes or takes out. */
  readonly replaces: readonly string[];
}

/** What an event leaves where, now and with the proposal. */
export interface StormRow extends EventRow {
  readonly buildings: readonly {
    readonly building: string;
    readonly name: string;
    readonly volume_m3: BeforeAfter;
    readonly depth_m: BeforeAfter;
    readonly wall_m: BeforeAfter;
  }[];
  /** By lot; `null` for the street and all that is on no lot of the plan. */
  readonly sent: readonly {
    readonly to: string | null;
    readonly name: string;
    readonly volume_m3: BeforeAfter;
  }[];
}

/** What a proposal does to one finding, in the event that was asked about. */
export interface FindingEffect {
  readonly id: string;
  /** Whether the elevation's error may be all of it: then it counts for no rank. */
  readonly doubtful: boolean;
  readonly volume_m3: BeforeAfter;
  readonly depth_m: BeforeAfter;
  readonly wall_m: BeforeAfter;
  /** `null` as long as only the event that was asked about has been tried. */
  readonly dry_to_mm: BeforeAfter<number | null>;
}

export interface Proposal {
  readonly id: string;
  /** From 1, the first the best; 0 as long as the search goes on. */
  readonly rank: number;
  readonly mark: 'dries' | 'eases';
  /** Of all its rules the worst. */
  readonly lawful: Verdict;
  readonly parts: readonly PartRow[];
  /** Ids of findings. */
  readonly cures: readonly string[];
  readonly eases: readonly string[];
  readonly findings: readonly FindingEffect[];
  /** The event that was asked about first. */
  readonly storms: readonly StormRow[];
  readonly work: {
    readonly cut_m3: number;
    readonly fill_m3: number;
    readonly length_m: number;
    readonly deepest_m: number;
  };
  readonly rules: readonly RuleRow[];
  /** How likely a metre of wall or more is wet, over equally likely surfaces; `null` where it was not asked. */
  readonly certainty: {
    readonly surfaces: number;
    readonly walls: readonly {
      readonly building: string;
      readonly name: string;
      readonly probability: BeforeAfter;
    }[];
  } | null;
  /** What takes it into the plan. */
  readonly change: Change;
}

/** What was tried or looked for and is not proposed. */
export interface RefusedRow {
  readonly remedy: RemedyVerb;
  readonly key: string;
  readonly low_spot: string | null;
  /** One sentence. */
  readonly because: string;
  /** What would have to change for it to be proposed, one sentence. */
  readonly would_change: string;
}

/** What is not judged here, for there is no water in the ground in this computation. */
export interface NotJudgedRemedy {
  readonly remedy: string;
  readonly does: string;
  readonly does_not: string;
  readonly call: string;
  readonly source: Source;
}

/** Where to measure before anything is dug. */
export interface MeasureFirst {
  readonly finding: string;
  readonly because: string;
  /** Where spot heights would settle it. */
  readonly at: readonly LngLat[];
}

/** What would dry the walls of a plan's buildings. */
export interface RemediesResult {
  /** The event that was asked about first. */
  readonly events: readonly EventRow[];
  readonly findings: readonly FindingRow[];
  readonly measure_first: readonly MeasureFirst[];
  readonly proposals: readonly Proposal[];
  readonly refused: readonly RefusedRow[];
  readonly not_judged: readonly NotJudgedRemedy[];
  /** How many grounds were shaped and poured on. */
  readonly tried: number;
  readonly notes: readonly string[];
}

/** What the search tells while it goes on. */
export interface RemedyNews {
  readonly fraction: number;
  readonly stage: string;
  /** One more proposal, or one of the same id that more is known of now. */
  readonly proposal?: Proposal;
}
