import type { Verdict } from '../../verdict';
import type { XY } from '../../frame/frame';
import type { Binding } from '../rules/rule';
import type { Source } from '../../source';
import type { WhatWasMeasured } from './what-was-measured';

/** One rule at one basin and one feature. Field names are those of the JSON output. */
export interface SetbackResult extends WhatWasMeasured {
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
  /** What settles it before a permit is issued, without its capital and stop; `null` where nothing is open. */
  readonly before_issue: string | null;
  readonly published: string;
  readonly binding: Binding;
  /** Where it is measured: on the basin, then on the feature. */
  readonly nearest: readonly [XY, XY] | null;
  readonly source: Source;
}

/** How many results there are of each kind. */
export interface FindingCounts {
  readonly pass: number;
  readonly fail: number;
  readonly check: number;
  /** Of the failing ones, those of rules that must be met. */
  readonly must_fail: number;
  /** Of those that cannot be judged, the same. */
  readonly must_check: number;
}

export interface SetbackFindings {
  readonly rule_set: string;
  readonly results: readonly SetbackResult[];
  readonly summary: FindingCounts;
  /** What has to be said of the soil's rate, where a rule of the set goes by it. */
  readonly notes: readonly string[];
}
