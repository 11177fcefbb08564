import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import type { Ring } from '../frame/shapes';
import type { LocalPlan } from '../plan/local-plan';
import type { Locate } from './locates';
import type { Binding, RuleSet, RuleSource } from './rule';

/** A basin as the rules see it. */
export interface CheckedBasin {
  readonly id: string;
  readonly name?: string | undefined;
  readonly rim: Ring;
  /** How far the berm reaches beyond the rim, for rules that measure from its foot; 0 when not given. */
  readonly bermWidthM?: number;
}

export interface SetbackInput {
  readonly plan: Pick<LocalPlan, 'of'>;
  readonly basins: readonly CheckedBasin[];
  readonly ruleSet: RuleSet;
  /** Bare elevation as read, without raised buildings; `undefined` when there is none. */
  readonly elevation?: Grid | undefined;
  /** Locates on record beside those of the plan's lines. */
  readonly locates?: readonly Locate[];
  /** ISO date on which locates must be current. */
  readonly today: string;
}

export type Verdict = 'pass' | 'fail' | 'check';

/** One rule at one basin and one feature. Field names are those of the JSON output. */
export interface SetbackResult {
  readonly rule: string;
  readonly letter: string;
  readonly title: string;
  readonly basin: string;
  /** The feature's id; `null` for what concerns the whole lot or the ground. */
  readonly feature: string | null;
  readonly feature_name: string;
  /** Distances in metres; `null` where the rule is not about one. The required one includes the feature's accuracy. */
  readonly required_m: number | null;
  readonly measured_m: number | null;
  readonly margin_m: number | null;
  /** How deep basin and feature overlap (or the basin leaves the lot), metres; 0 when they do not. */
  readonly penetration_m: number;
  /** For rules about slope: rise over run. */
  readonly required_slope: number | null;
  readonly measured_slope: number | null;
  readonly result: Verdict;
  /** Why, in one sentence without figures in the user's units (those are in the fields). */
  readonly why: string;
  readonly published: string;
  readonly binding: Binding;
  /** Where it is measured: on the basin, then on the feature. */
  readonly nearest: readonly [XY, XY] | null;
  readonly source: RuleSource;
}

export interface SetbackFindings {
  readonly rule_set: string;
  readonly results: readonly SetbackResult[];
  readonly summary: {
    readonly pass: number;
    readonly fail: number;
    readonly check: number;
    /** Of the failing ones, those of rules that must be met. */
    readonly must_fail: number;
  };
}
