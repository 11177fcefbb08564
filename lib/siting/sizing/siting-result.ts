import type { DepthClass } from '../../basin/form/size-factors';
import type { XY } from '../../frame/frame';
import type { SetbackFindings } from '../../setback/judge/setback-result';
import type { LedRoof } from '../leading/led-roof';
import type { RefusedArea } from '../refused/forbidden-ground';
import type { OutlineForm } from './basin-outline';
import type { ScoreParts } from './score';

/** A candidate site. Field names are those of the JSON output; places are in local metres. */
export interface CandidateSite {
  readonly rank: number;
  /** Id of the own lot that it lies on. */
  readonly lot: string;
  readonly at: XY;
  readonly rim: readonly XY[];
  readonly form: OutlineForm;
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
export interface SitingRemedy {
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
  readonly ways_out: readonly SitingRemedy[];
  readonly refused: readonly RefusedArea[];
  readonly lot_m2: number;
  readonly allowed_m2: number;
  /** The most that any candidate holds of the storm, m3: what the part `caught` is measured by. */
  readonly reachable_m3: number;
  readonly notes: readonly SitingNote[];
}
