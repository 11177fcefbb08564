import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import type { LocalPlan } from '../plan/local-plan';
import type { SetbackFindings } from '../setback/check';
import type { Locate } from '../setback/locates';
import type { RuleSet } from '../setback/rule';
import type { RefusedArea } from './forbidden-ground';
import type { ScoreParts, ScoreWeights } from './score';
import type { BasinForm } from './shapes';
import type { DepthClass, SoilTexture } from './size-factors';

/** A roof's share that one downspout brings to the ground. */
export interface RoofOutlet {
  /** What it is called in the plan, for the report. */
  readonly id: string;
  /** Where the water reaches the ground, local metres. */
  readonly at: XY;
  /** Roof area that drains here, m2. */
  readonly areaM2: number;
}

/** What reaches some cells. */
interface Catch {
  /** Contributing area by itself, over the ground: ground and roofs, m2, each square metre counted once. */
  readonly areaM2: number;
  /** For each roof outlet the share (0-1) of its water that is in `areaM2`. */
  readonly roofShares: ArrayLike<number>;
}

/** What the search needs to know about where water goes. Roofs' water is in all of it, from their outlets on. */
export interface Catchments {
  /** What reaches a set of cells of the elevation. Called a few hundred times. */
  catchAt(cells: Int32Array): Catch;
  /** Contributing area of every cell, m2, by multiple flow. Guides the search; the answers come from `catchAt`. */
  readonly accumulationM2: Float32Array;
  readonly roofs: readonly RoofOutlet[];
}

export interface SitingInput {
  readonly plan: Pick<LocalPlan, 'of'>;
  /** Bare elevation as read, without raised buildings. */
  readonly elevation: Grid;
  readonly ruleSet: RuleSet;
  /** ISO date on which locates must be current. */
  readonly today: string;
  readonly locates?: readonly Locate[];
  readonly catchments: Catchments;
  readonly soil: SoilTexture;
  /** Steady infiltration, metres a second; leave out when unknown. */
  readonly infiltrationMPerS?: number;
  /** Depth of run-off of the storm, metres over the catchment. */
  readonly runOffDepthM: number;
  /** Run for one of rise of the bowl's sides. */
  readonly sideSlope?: number;
  /** Depth of standing water per cell of the elevation, metres: where water lies today. */
  readonly standingDepthM?: Float32Array;
  readonly weights?: Partial<ScoreWeights>;
  readonly minAreaM2?: number;
  readonly maxAreaM2?: number;
  readonly maxSites?: number;
  /** How far a roof's water may be led to a basin by a pipe or swale, metres; 0 for not at all. */
  readonly leadM?: number;
}

/** What is taken where the input gives none. */
export const sitingDefaults = {
  /** 3:1, for homeowners (from memory). */
  sideSlope: 3,
  /** Half of the 100 ft2 that the homeowner manual calls typical: common practice, no source. */
  minAreaM2: 4.65,
  /** 300 ft2: larger gardens are hard to level and better split (University of Wisconsin-Extension, summary, seen). */
  maxAreaM2: 27.87,
  maxSites: 8,
  /** Common practice, no source. */
  leadM: 15,
} as const;

/** A roof outlet whose water comes to a basin only when it is led there. */
export interface LedRoof {
  readonly roof: string;
  readonly area_m2: number;
  readonly distance_m: number;
  /** Fall from the outlet to the basin's rim over the distance. */
  readonly fall_ratio: number;
}

/** A candidate site. Field names are those of the JSON output; places are in local metres. */
export interface CandidateSite {
  readonly rank: number;
  readonly at: XY;
  readonly rim: readonly XY[];
  readonly form: BasinForm;
  readonly aspect: number;
  readonly turn_rad: number;
  readonly area_m2: number;
  /** What the size factors ask for; `area_m2` is less where the place or the upper bound allows no more. */
  readonly wanted_m2: number;
  readonly ponding_depth_m: number;
  readonly depth_class: DepthClass;
  /** Slope of the ground, rise over run; `null` without elevation there. */
  readonly slope: number | null;
  /** Area whose water comes here: by itself, and with the roofs that are led. */
  readonly catches_m2: number;
  readonly by_itself_m2: number;
  readonly led: readonly LedRoof[];
  /** Bowl below the rim, and the dig to make it level without a berm, m3. */
  readonly bowl_m3: number;
  readonly cut_m3: number;
  readonly captured_m3: number;
  /** Share of the storm's run-off from `catches_m2` that the bowl holds, 0-1, what soaks in meanwhile left out. */
  readonly captured_fraction: number;
  /** Hours for the full ponding depth to soak in; `null` when the infiltration is unknown. */
  readonly drain_down_h: number | null;
  /** 0-1, the weighted mean of the parts that are known. */
  readonly score: number;
  readonly parts: ScoreParts;
  readonly setbacks: SetbackFindings;
}

/** Something about the answer that the reader must know. */
export interface SitingNote {
  readonly code:
    'cells-too-coarse' | 'cells-coarse' | 'no-own-lot' | 'nowhere' | 'does-not-fit' | 'undersized';
  readonly text: string;
}

export interface SitingResult {
  readonly sites: readonly CandidateSite[];
  readonly refused: readonly RefusedArea[];
  readonly lot_m2: number;
  readonly allowed_m2: number;
  /** The most that any candidate holds of the storm, m3: what the part `caught` is measured by. */
  readonly reachable_m3: number;
  readonly notes: readonly SitingNote[];
}
