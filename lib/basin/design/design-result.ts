import type { Verdict } from '../../verdict';
import type { SurfaceRow } from '../../drainage/answer/lot-run-off';
import type { LngLat } from '../../frame/frame';
import type { LayerMaterial } from '../../plan/basin-properties';
import type { SoilSeparation } from '../../soil/separation';
import type { Source } from '../../source';
import type { Cost, QuantityRow } from '../form/earthwork';
import type { NotchStorm } from '../overflow/notch-storm';
import type { TwoYearRain } from '../filling/two-year-rain';
import type { OverflowReaches } from '../overflow/overflow-verdict';

/** The basins of a plan, worked out. Field names are those of the JSON output. */
export interface DesignResult {
  /** In the plan's order. */
  readonly basins: readonly (BasinDesign | BasinNotDug)[];
  readonly soil: DesignSoil;
  readonly notes: readonly string[];
}

/** A basin that cannot be dug as drawn. */
export interface BasinNotDug {
  readonly id: string;
  readonly name: string;
  readonly not_dug: string;
}

/** Whether a basin of the result was worked out. */
export function isDesigned(basin: BasinDesign | BasinNotDug): basin is BasinDesign {
  return !('not_dug' in basin);
}

export interface BasinDesign {
  readonly id: string;
  readonly name: string;
  readonly basin: DesignedForm;
  readonly catchment: DesignedCatchment;
  readonly storm: DesignedStorm;
  readonly drain_down: DesignedDrainDown;
  readonly overflow: DesignedOverflow;
  readonly sizing: DesignedSizing;
  /** What would make it drain in time; empty where it does, or where the soil is unknown. */
  readonly slow_soil: readonly DesignedRemedy[];
  /**
   * Of the earth moved, m3 in place: what is cut and dug, what the berm takes of it, and what is left over. `fill_m3` is the
   * berm as trodden in.
   */
  readonly balance: {
    readonly cut_m3: number;
    readonly dig_m3: number;
    readonly berm_m3: number;
    readonly fill_m3: number;
    readonly left_m3: number;
  };
  readonly quantities: readonly QuantityRow[];
  readonly cost: Cost;
  readonly long_run: DesignedLongRun | null;
  readonly series: DesignedSeries;
  readonly notes: readonly string[];
}

export interface DesignedForm {
  /** Inside the rim. */
  readonly area_m2: number;
  readonly ponding_depth_m: number;
  /** Of rim, sill and floor over the vertical datum of the elevation. */
  readonly levels: { readonly rim_m: number; readonly sill_m: number; readonly floor_m: number };
  /** The bottom of the dig below the ground as it is now, where it is deepest. */
  readonly bottom_depth_m: number;
  /** Thickness of all layers. */
  readonly dig_depth_m: number;
  /** Water in the bowl up to the sill; what the pores of the layers take beside it. */
  readonly storage_m3: number;
  readonly layer_storage_m3: number;
  readonly freeboard_m: number;
  /** What a handbook asks for. */
  readonly freeboard_asked: {
    readonly least_m: number;
    readonly published: string;
    readonly source: Source;
  };
  readonly side_slope: number;
  readonly overflow_width_m: number;
  /** What the bowl holds from the floor to the sill in tenths, and at the rim. */
  readonly stage_storage: readonly {
    readonly depth_m: number;
    readonly area_m2: number;
    readonly volume_m3: number;
  }[];
  /** Bottom up. */
  readonly layers: readonly {
    readonly name: string;
    readonly material: LayerMaterial;
    readonly thickness_m: number;
    readonly volume_m3: number;
    readonly storage_m3: number;
    readonly porosity: number;
    readonly field_capacity: number;
    readonly conductivity_mm_per_h: number;
  }[];
  readonly zones: readonly { readonly zone: string; readonly area_m2: number }[];
  readonly ponding_by_slope: {
    readonly result: Verdict;
    readonly why: string;
    readonly source: Source;
  };
  /** Of the bottom of the dig from seasonal high water and rock. */
  readonly separations: readonly {
    readonly below: SoilSeparation['below'];
    readonly result: Verdict;
    readonly why: string;
    /** Below the surface, where it is known; from the bottom of the dig down to it. */
    readonly depth_m: number | null;
    readonly actual_m: number | null;
    readonly rules: readonly {
      readonly required_m: number;
      readonly published: string;
      readonly meets: boolean | null;
      readonly source: Source;
    }[];
  }[];
}

export interface DesignedCatchment {
  /** Ground and roofs beside the basin itself. */
  readonly area_m2: number;
  readonly ground_m2: number;
  /** The ground by what covers it, with what it takes to work its run-off out again; roofs have the number below. */
  readonly by_cover: readonly SurfaceRow[];
  /** `null` in a thaw. */
  readonly roof_curve_number: number | null;
  readonly roofs: readonly {
    readonly id: string;
    readonly area_m2: number;
    readonly distance_m: number;
    readonly travel_min: number;
  }[];
  /** Way and time of the ground's water in the mean; of the water that comes from farthest. */
  readonly mean_way_m: number;
  readonly mean_travel_min: number;
  readonly longest_travel_min: number;
  readonly travel_source: Source;
  /** Farther than this no water is taken to run in a sheet; flatter than this no ground. */
  readonly longest_sheet_m: number;
  readonly least_slope: number;
  readonly least_slope_source: Source;
  /** Rain of 24 h once in two years, which sheet flow hangs on, and who tells it. */
  readonly rain_2y_mm: number;
  readonly rain_2y_from: TwoYearRain['from'];
  readonly rain_2y_source: Source | null;
  readonly cut_by_edge: boolean;
}

export interface DesignedStorm {
  readonly kind: 'storm' | 'thaw';
  readonly rain_mm: number;
  /** Over the rim and on the basin itself. */
  readonly inflow_m3: number;
  /**
   * What comes in by two rules of how water spreads on its way, the lesser first, where they differ by more than 5 %; else
   * `null`. The figures beside it are by the usual rule.
   */
  readonly inflow_between_m3: readonly [number, number] | null;
  readonly captured_m3: number;
  readonly captured_fraction: number;
  /** Of what is captured, taken into layers, soil and underdrain by the time the last water has come. */
  readonly taken_in_m3: number;
  readonly overflow_m3: number;
  readonly peak_depth_m: number;
  /** After the beginning. */
  readonly peak_at_h: number;
  /**
   * Hours from the end of the rain until less than a millimetre stands; `null` while the soil is unknown, and where some stands at
   * the end of the time looked at.
   */
  readonly drain_down_h: number | null;
  readonly drain_from_peak_h: number | null;
  readonly layers_empty_h: number | null;
  readonly longest_wet_h: number;
  /** Inflow less everything that became of it. */
  readonly error_m3: number;
  readonly soaked_m3: number;
  readonly underdrain_m3: number;
  readonly left_m3: number;
  readonly from_ground_m3: number;
  readonly from_roofs_m3: number;
  readonly from_drains_m3: number;
  readonly from_overflow_m3: number;
  readonly on_itself_m3: number;
  /** On their way, and not in the inflow. */
  readonly held_in_barrels_m3: number;
  readonly held_in_low_spots_m3: number;
  readonly peak_inflow_m3_per_h: number;
  readonly peak_overflow_m3_per_h: number;
  readonly rain_end_h: number;
  readonly followed_h: number;
  readonly over_rim: boolean;
  /** How much half the time step changes. */
  readonly half_step: {
    readonly step_s: number;
    readonly overflow_m3: number;
    readonly peak_depth_m: number;
    readonly drain_down_h: number | null;
  };
}

export interface DesignedDrainDown {
  readonly result: Verdict;
  readonly why: string;
  readonly limit_h: number;
  readonly limit_is_local: boolean;
  readonly judged_h: number | null;
  readonly after_rain_h: number | null;
  readonly from_full_h: number | null;
  readonly source: Source | null;
  readonly limits: readonly {
    readonly name: string;
    readonly hours: number;
    readonly published: string;
    readonly result: Verdict;
    readonly source: Source;
  }[];
}

/** What overflow reaches first on a way. */
export interface DesignedReach {
  readonly reaches: OverflowReaches;
  readonly feature: string | null;
  readonly result: Verdict;
  readonly why: string;
  readonly at: LngLat | null;
  readonly along_m: number;
}

export interface DesignedOverflow {
  /** The way that most of it takes, over the ground and through pipes. */
  readonly path: readonly LngLat[];
  /** The worst of what its ways reach, with what inlets on them take. */
  readonly verdict: DesignedReach;
  /** Every way that it takes at the peak: more than one where a pipe cannot take all. */
  readonly ways: readonly (DesignedReach & {
    readonly flow_m3_per_h: number;
    readonly legs: readonly {
      readonly by: 'ground' | 'pipe';
      /** Id of the yard drain or open drain pipe; null over the ground. */
      readonly drain: string | null;
      readonly points: readonly LngLat[];
    }[];
  })[];
  /** Inlets that it comes to. */
  readonly inlets: readonly {
    readonly drain: string;
    readonly comes_m3_per_h: number;
    readonly room_m3_per_h: number;
    readonly takes_m3_per_h: number;
    readonly blocked: boolean;
  }[];
  /** Basin of the plan that it comes to next, as the water runs. */
  readonly to_basin: string | null;
  readonly notch: {
    readonly result: Verdict;
    readonly why: string;
    /** The storm that it is made for, and who says so. */
    readonly rain_mm: number;
    readonly rain_from: NotchStorm['from'];
    readonly return_period_y: number | null;
    /** The least rain, spread as the plan's storm, in which it fails; null where none does. */
    readonly fails_from_mm: number | null;
    /** The peak of that storm when it meets the basin full. */
    readonly peak_m3_per_h: number;
    readonly head_m: number;
    readonly width_for_peak_m: number | null;
    readonly stone: boolean;
    readonly coefficient: number;
    readonly source: Source;
    /** On the sill and down the berm, against what grass bears. */
    readonly sill_velocity_m_per_s: number;
    readonly berm_velocity_m_per_s: number;
    readonly erosion: Verdict;
    readonly erosion_why: string;
    readonly erosion_fails_from_mm: number | null;
    /** Share of the freeboard that should stay clear. */
    readonly clear_share: number;
    readonly clear_source: Source;
  };
  /** Velocities that grass bears: on all soils and slopes, and at most. */
  readonly grass_limit: {
    readonly from_m_per_s: number;
    readonly to_m_per_s: number;
    readonly source: Source;
  };
  /** Where the inflow of the same storm enters, spread over a width. */
  readonly inlet: {
    readonly result: Verdict;
    readonly why: string;
    readonly fails_from_mm: number | null;
    readonly peak_m3_per_h: number;
    readonly velocity_m_per_s: number;
    readonly width_m: number;
    readonly width_source: Source;
    readonly source: Source;
  };
}

export interface DesignedSizing {
  readonly wanted_fraction: number;
  readonly by_factor: {
    readonly soil: string;
    /** Whether the plan does not give it, so that the factors that ask for most are taken. */
    readonly soil_assumed: boolean;
    readonly area_m2: number;
    readonly captured_fraction: number;
    readonly factors: readonly {
      readonly drained_m2: number;
      readonly factor: number;
      readonly source: Source;
    }[];
  } | null;
  readonly by_storm: {
    /** At the ponding depth that it has. */
    readonly area_m2: number | null;
    /** On the area that it has. */
    readonly ponding_depth_m: number | null;
    /** The largest storm of this pattern held without overflow; `null` for a thaw, and beyond any looked at. */
    readonly largest_held_mm: number | null;
  };
  readonly agree: boolean | null;
  readonly why: string;
}

export interface DesignedRemedy {
  readonly kind: string;
  readonly works: boolean;
  readonly why: string;
  readonly area_m2: number;
  readonly ponding_depth_m: number;
  readonly dig_depth_m: number;
  readonly rate_mm_per_h: number;
  readonly after_rain_h: number | null;
  readonly from_full_h: number | null;
  readonly captured_fraction: number;
  readonly underdrain_m3: number;
}

export interface DesignSoil {
  /** For design; `null` while unknown. */
  readonly rate_mm_per_h: number | null;
  readonly from: string;
  readonly factor: number;
  readonly suction_m: number | null;
  readonly deficit: number | null;
  readonly source: Source | null;
  readonly notes: readonly string[];
}

export interface DesignedLongRun {
  readonly years: readonly DesignedYear[];
  readonly all: DesignedYear;
  readonly error_m3: number;
  readonly notes: readonly string[];
}

export interface DesignedYear {
  readonly year: number | null;
  readonly days: number;
  readonly missing_days: number;
  readonly rain_mm: number;
  readonly inflow_m3: number;
  readonly overflow_m3: number;
  readonly soaked_m3: number;
  readonly dried_m3: number;
  readonly underdrain_m3: number;
  readonly captured_fraction: number;
  readonly storms: number;
  readonly overflows: number;
  readonly wet_h: number;
  readonly longest_wet_h: number;
  readonly peak_depth_m: number;
}

/** What happens over time: lists of one length; rates are means since the entry before. */
export interface DesignedSeries {
  readonly time_h: readonly number[];
  readonly inflow_m3_per_h: readonly number[];
  readonly depth_m: readonly number[];
  readonly layers_m3: readonly number[];
  readonly soaked_m3_per_h: readonly number[];
  readonly underdrain_m3_per_h: readonly number[];
  readonly overflow_m3_per_h: readonly number[];
}
