import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import type { Ring } from '../frame/shapes';
import type { LocalPlan } from '../plan/local-plan';
import type { SoilSettings } from '../plan/soil-settings';
import type { ClearLocate } from './locates';
import type { Binding, RuleSet, RuleSource } from './rule';

/** A basin as the rules see it. What is not given is not known: rules that need it answer `check`. */
export interface CheckedBasin {
  readonly id: string;
  readonly name?: string | undefined;
  readonly rim: Ring;
  /** How far the berm reaches beyond the rim, for rules that measure from its foot; 0 when not given. */
  readonly bermWidthM?: number | undefined;
  /** How far the level floor's edge lies inside the rim, for rules that measure from it; 0 when not given. */
  readonly bottomInsetM?: number | undefined;
  /** Bottom of the dig, layers and all, below the ground's surface, metres. */
  readonly bottomDepthM?: number | undefined;
  /** Depth of water when it begins to overflow, metres. */
  readonly pondingDepthM?: number | undefined;
  /**
   * How long ponded water stands after the storm, hours; `Infinity` when it never goes. Where it is not given and the
   * soil's rate is, it is taken as the ponding depth over the rate.
   */
  readonly drainDownH?: number | undefined;
  /**
   * The stretches that overflow takes over the finished ground, from the notch on, local metres. What runs through
   * pipes is left out: it runs onto nothing.
   */
  readonly overflowWays?: readonly (readonly XY[])[] | undefined;
}

/** Water that stands on the ground without the basins when the storm is over. */
export interface StandingWater {
  /** Where the cells lie. */
  readonly grid: Pick<Grid, 'width' | 'height' | 'cellM' | 'westM' | 'northM'>;
  /** Depth by cell, metres. */
  readonly depthM: Float32Array;
}

export interface SetbackInput {
  readonly plan: Pick<LocalPlan, 'of'>;
  readonly basins: readonly CheckedBasin[];
  readonly ruleSet: RuleSet;
  /** The ground before any basin, without raised buildings (`groundWithoutBasins`); `undefined` when there is none. */
  readonly elevation?: Grid | undefined;
  /** Answers of locators who found no line, see `clearLocates`; without them none is on record. */
  readonly locates?: readonly ClearLocate[];
  /** ISO date on which locates must be current. */
  readonly today: string;
  /** The plan's soil settings: rate, depths of water and rock, soil group, the local limit for draining down. */
  readonly soil?: SoilSettings | undefined;
  readonly standing?: StandingWater | undefined;
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
  /** Distances in metres, level ones and depths; `null` where the rule is not about one. */
  readonly required_m: number | null;
  readonly measured_m: number | null;
  readonly margin_m: number | null;
  /** How far the feature's true place may be off: a margin smaller than this cannot be judged. 0 when not given. */
  readonly accuracy_m: number;
  /** How deep basin and feature overlap (or the basin leaves the lot), metres; 0 when they do not. */
  readonly penetration_m: number;
  /** For rules about slope: rise over run. */
  readonly required_slope: number | null;
  readonly measured_slope: number | null;
  /** For rules about time: hours. What never drains has no measured time, and fails. */
  readonly required_h: number | null;
  readonly measured_h: number | null;
  /** For rules about standing water: its depth. */
  readonly required_depth_m: number | null;
  readonly measured_depth_m: number | null;
  /** Whether the required figure is the least or the most that is allowed. */
  readonly limit: 'least' | 'most';
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
  /** What has to be said of the soil's rate, where a rule of the set goes by it. */
  readonly notes: readonly string[];
}
