import type { FilledOutline, OutlineToFill } from '../basin/filling/outline-filler';
import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import type { LocalPlan } from '../plan/local-plan';
import type { SoilSettings } from '../plan/soil-settings';
import type { SetbackFindings } from '../setback/check';
import type { ClearLocate } from '../setback/locates';
import type { RuleSet } from '../setback/rule';
import type { RefusedArea } from './forbidden-ground';
import type { ScoreParts, ScoreWeights } from './score';
import type { BasinForm } from './shapes';
import type { DepthClass, SoilTexture } from '../basin/form/size-factors';

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
export interface Catch {
  /** Contributing area by itself, over the ground: ground and roofs, m2, each square metre counted once. */
  readonly areaM2: number;
  /** For each roof outlet the share (0-1) of the storm's water from it that comes, less what barrels and low spots hold back. */
  readonly roofShares: ArrayLike<number>;
  /** What the storm brings over the ground, of drains and sumps too, m3; what comes from roofs is left out. */
  readonly runOffM3: number;
}

/** How several groups of cells share the water. */
export interface SharedCatch {
  readonly catches: readonly Catch[];
  /** `onward[i][j]`: share (0-1) of what leaves group i at its lowest cell that comes to group j next. */
  readonly onward: readonly (readonly number[])[];
}

/** What the search needs to know about where water goes. Roofs' water is in all of it, from their outlets on. */
export interface Catchments {
  /** What reaches a set of cells of the elevation. Called a few hundred times. */
  catchAt(cells: Int32Array): Catch;
  /**
   * What reaches each of several groups of cells before any other of them, and where what spills from one goes on to.
   * Called a few dozen times, when several basins share the water.
   */
  catchApart(groups: readonly Int32Array[]): SharedCatch;
  /**
   * The stretches that water takes over the ground from the edge of some cells on, local metres, but for those in pipes;
   * left out where they are not known.
   */
  waysFrom?(at: XY, cells: Int32Array): readonly (readonly XY[])[];
  /** Contributing area of every cell, m2, by multiple flow. Guides the search; the answers come from `catchAt`. */
  readonly accumulationM2: Float32Array;
  readonly roofs: readonly RoofOutlet[];
}

export interface SitingInput {
  readonly plan: Pick<LocalPlan, 'of'>;
  /** The ground before any basin, without raised buildings (`groundWithoutBasins`). */
  readonly elevation: Grid;
  readonly ruleSet: RuleSet;
  /** ISO date on which locates must be current. */
  readonly today: string;
  /** Answers of locators who found no line. */
  readonly locates?: readonly ClearLocate[];
  readonly catchments: Catchments;
  readonly soil: SoilTexture;
  /** What else is known of the soil, for rules about it. */
  readonly soilSettings?: SoilSettings | undefined;
  /** Infiltration for design, metres a second; leave out when unknown. */
  readonly infiltrationMPerS?: number;
  /** Mean depth of the storm's run-off from the ground, metres. Guides the search. */
  readonly runOffDepthM: number;
  /** Depth that runs off roofs, metres. */
  readonly roofRunOffM: number;
  /** Run for one of rise of the bowl's sides. */
  readonly sideSlope?: number;
  /** Depth of standing water per cell of the elevation, metres: where water lies today. */
  readonly standingDepthM?: Float32Array;
  readonly weights?: Partial<ScoreWeights>;
  /** Fills and drains a basin over the storm; or, where that cannot be done, why not. */
  readonly simulate?: SiteSimulator | { readonly unknown: string };
  /** Share of the inflow that a simulated basin is sized to capture where the place allows it. */
  readonly wantedShare?: number;
  /** How many basins may share the water; 1 when not given. */
  readonly basins?: number;
  readonly minAreaM2?: number;
  readonly maxAreaM2?: number;
  readonly maxSites?: number;
  /** How far a roof's water may be led to a basin by a pipe or swale, metres; 0 for not at all. */
  readonly leadM?: number;
}

/** Fills a basin with the storm's water from ground and roofs, and lets it drain. */
export type SiteSimulator = (site: OutlineToFill) => FilledOutline;

/** What is taken where the input gives none. */
export const sitingDefaults = {
  /** 3:1, for homeowners (from memory). */
  sideSlope: 3,
  /** Half of the 100 ft2 that the homeowner manual calls typical: common practice, no source. */
  minAreaM2: 4.65,
  /** 300 ft2: larger gardens are hard to level and better split (University of Wisconsin-Extension, summary, seen). */
  maxAreaM2: 27.87,
  maxSites: 8,
  /** Our choice, no source. */
  wantedShare: 0.9,
  /** Common practice, no source. */
  leadM: 15,
} as const;

/** Something that the trench of a lead-in meets. */
export interface TrenchFinding {
  readonly what: 'utility' | 'unmarked' | 'roots' | 'paving' | 'easement';
  /** The feature's id; `null` for lines that are not on the plan. */
  readonly feature: string | null;
  readonly feature_name: string;
  /** Length of trench in it (for a line: in its tolerance zone), metres. */
  readonly length_m: number;
  /** What to do about it, in one sentence. */
  readonly why: string;
}

/** A roof outlet whose water comes to a basin only when it is led there, and the way it takes. */
export interface LedRoof {
  readonly roof: string;
  readonly area_m2: number;
  /** Length of the way. */
  readonly distance_m: number;
  /** From the outlet to the basin's rim, metres. */
  readonly fall_m: number;
  readonly fall_ratio: number;
  /** Ground over an even fall where that is most: how deep a pipe has to go beside its own cover, metres. */
  readonly deepest_m: number;
  /** From the outlet to the rim. */
  readonly route: readonly XY[];
  readonly trench: readonly TrenchFinding[];
}

/** A candidate site. Field names are those of the JSON output; places are in local metres. */
export interface CandidateSite {
  readonly rank: number;
  /** Id of the own lot that it lies on. */
  readonly lot: string;
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
  /** The storm's run-off from `catches_m2`; by simulation where there is one, and then with all rain on the basin itself. */
  readonly inflow_m3: number;
  readonly led: readonly LedRoof[];
  /** What the bowl holds up to its sill, within 3 % of what `design` finds for the rim; the dig to make it level without a berm, m3. */
  readonly bowl_m3: number;
  readonly cut_m3: number;
  readonly captured_m3: number;
  /**
   * Share of `inflow_m3` that is captured, 0-1: by simulation where there is one, else what
   * the bowl holds, what soaks in meanwhile left out.
   */
  readonly captured_fraction: number;
  /**
   * Hours until no water stands: by simulation after the rain or from full, whichever is longer, else for the depth to soak in.
   * `null` when unknown, and then `unknown` says why.
   */
  readonly drain_down_h: number | null;
  readonly simulated: SimulatedSite | null;
  /** Why there is no simulation or no time to drain down; `null` when both are there. */
  readonly unknown: string | null;
  /** What moving, turning and resizing the place for the better has added to its score. */
  readonly gain: number;
  /** 0-1, the weighted mean of the parts that are known. */
  readonly score: number;
  readonly parts: ScoreParts;
  readonly setbacks: SetbackFindings;
}

/** Filling and draining of a candidate over the storm, beside what the size factors ask for. */
export interface SimulatedSite {
  readonly inflow_m3: number;
  readonly overflow_m3: number;
  /** The share that was wanted, and the area of this form that captures it here; `null` when none up to the bound does. */
  readonly wanted_share: number;
  readonly area_for_share_m2: number | null;
  /** Hours until no water stands after the rain, and from full; `null` where it does not empty in the time looked at. */
  readonly after_rain_h: number | null;
  readonly from_full_h: number | null;
}

/** Basins that share the water, with what each gets. */
export interface JointSites {
  readonly basins: readonly JointBasin[];
  readonly area_m2: number;
  readonly catches_m2: number;
  readonly captured_m3: number;
  readonly inflow_m3: number;
  /** Share of it that the bowls hold. */
  readonly captured_fraction: number;
  /** The most that any place holds by itself, for comparison. */
  readonly single_captured_m3: number;
  readonly score: number;
}

/** One of several basins; its rank is its number among them. */
export interface JointBasin extends CandidateSite {
  /** Share of all the water that comes to the basins first here, 0-1. */
  readonly share: number;
  /** What the storm brings here from other basins' overflow. */
  readonly from_overflow_m3: number;
  /** What goes on from here, and by its number (from 1) the basin that gets most of it; `null` for none. */
  readonly overflow_m3: number;
  readonly overflows_to: number | null;
}

/** Something that would make room where there is none, worked out as if it were so. Nothing is relaxed by it. */
export interface WayOut {
  readonly kind: 'smaller' | 'two-smaller' | 'locates' | 'without-rule';
  /** The rule that would have to be lifted. */
  readonly rule: string | null;
  /** Area that would be open to a rim beside what is open now. */
  readonly freed_m2: number;
  /** The largest basin that would fit (of two, both together); 0 when none would. */
  readonly area_m2: number;
  readonly rims: readonly (readonly XY[])[];
  readonly text: string;
}

/** Something about the answer that the reader must know. */
export interface SitingNote {
  readonly code:
    | 'cells-too-coarse'
    | 'cells-coarse'
    | 'no-own-lot'
    | 'nowhere'
    | 'does-not-fit'
    | 'lot-without-place'
    | 'undersized'
    | 'weights'
    | 'soil'
    | 'no-second-basin';
  readonly text: string;
}

export interface SitingResult {
  /** The best, ranked, apart from one another. */
  readonly sites: readonly CandidateSite[];
  /** Every place that was sized and complies: what other weights rank anew, see `rankSites`. */
  readonly candidates: readonly CandidateSite[];
  /** Several basins chosen together, when asked for and possible. */
  readonly joint: JointSites | null;
  /** What would change the answer, worked out where there is no site. */
  readonly ways_out: readonly WayOut[];
  readonly refused: readonly RefusedArea[];
  readonly lot_m2: number;
  readonly allowed_m2: number;
  /** The most that any candidate holds of the storm, m3: what the part `caught` is measured by. */
  readonly reachable_m3: number;
  readonly notes: readonly SitingNote[];
}
