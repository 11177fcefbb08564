import type { MultiPolygon } from 'geojson';
import type { LngLat } from '../../frame/frame';
import type { Source } from '../../source';
import type { LevelTieRow } from './level-ties';
import type { Ledger } from './ledger';
import type { Exchange } from './lot-exchange';
import type { LineCrossings } from './line-crossings';
import type { LotRunOff } from './lot-run-off';
import type { NotJudged } from './not-judged';
import type { StandingOnLot } from './standing-on-lot';

/** A low spot of the ground, filled to its brim. */
export interface LowSpotRow {
  readonly id: string;
  /** What people call it by, from 1: open ones first, the largest volume first. The rows stand in this order. */
  readonly number: number;
  readonly area_m2: number;
  readonly depth_m: number;
  readonly volume_m3: number;
  readonly deepest: LngLat;
  /** Where it overflows. */
  readonly spill: LngLat;
  /**
   * Rain at which it begins to spill in this kind of storm, when asked for; null when it still has room at 512 mm. Whatever
   * storm is poured it is the same: what basins take into the soil meanwhile is left out, theirs is that of the bowl alone.
   */
  readonly spills_from_mm?: number | null;
  /** The lot that holds its deepest point, or null. */
  readonly lot: string | null;
  /** Whether the vertical error of the elevation could have made it. */
  readonly doubtful: boolean;
  /** Whether buildings close it in, so that depth and volume are those up to where it would run over one of them. */
  readonly enclosed: boolean;
  readonly outline: MultiPolygon;
}

/** Water that stands in a low spot when the storm is over. */
export interface StandingRow {
  /** Id of the low spot. */
  readonly id: string;
  readonly volume_m3: number;
  /** Of that what stands on the own lot outside its basins; 0 without an own lot. */
  readonly on_lot_m3: number;
  readonly area_m2: number;
  /** At its deepest. */
  readonly depth_m: number;
  /** Whether the low spot is full and passes water on. */
  readonly spills: boolean;
  /** What reaches it, over the ground and from other low spots. */
  readonly inflow_m3: number;
  readonly spilled_m3: number;
  /** Id of the low spot that receives what it spills; null when that leaves the map or ends in one not listed. */
  readonly spills_to: string | null;
  /** The basin that it is, or null. */
  readonly basin: string | null;
  /** Where the water is more than a film; left out while a storm is being changed. */
  readonly outline?: MultiPolygon;
}

/** What drains to one feature, point or low spot. */
export interface Contributing {
  /** Id of the feature or low spot, or 'point'. */
  readonly feature: string;
  /** Ground and roofs whose water runs there, each cell by the share of its water that does, m2. */
  readonly area_m2: number;
  /** The same for this storm: what low spots and barrels on the way hold back does not count, what drains bring does, m2. */
  readonly storm_area_m2: number;
  /** `area_m2` by where the water comes from: own lot, each neighbour, each roof, street and other. */
  readonly by_source: readonly { readonly source: string; readonly area_m2: number }[];
  /** The ground that sends most of its water there, as polygons in longitude and latitude. */
  readonly outline: MultiPolygon;
  /** The part of `outline` on each lot, by overlay, m2; `lot` is null for the rest. */
  readonly by_lot: readonly {
    readonly lot: string | null;
    readonly name: string;
    readonly area_m2: number;
  }[];
  /** Whether it reaches the edge of the data: then every figure is 'at least'. */
  readonly cut_by_edge: boolean;
}

/** Water standing near one building when the storm is over. */
export interface WaterAtBuilding {
  readonly building: string;
  readonly name: string;
  /** Greatest depth within the distance looked at, 0 when dry. */
  readonly depth_m: number;
  readonly area_m2: number;
  readonly volume_m3: number;
  /** Distance from the wall to the nearest standing water; null when dry. */
  readonly distance_m: number | null;
  /** Length of wall with standing water right at it. */
  readonly wall_m: number;
  /** Deepest place, null when dry. */
  readonly at: LngLat | null;
}

/** Water at one building: what stands there, and what brings it there. */
export interface BuildingRow extends WaterAtBuilding {
  /** The lot that its middle stands on, or null. */
  readonly lot: string | null;
  /** How the ground falls away from the walls over the first 10 ft; lengths of wall. */
  readonly wall_fall: {
    readonly judged_m: number;
    /** Where it falls away by less than the code figure (6 in in 10 ft; paving 2 %). */
    readonly short_m: number;
    /** Where it falls towards the wall. */
    readonly towards_m: number;
    /** Least fall away, rise over run, negative towards the wall. */
    readonly least_slope: number | null;
    readonly at: LngLat | null;
    /** What is asked for, and by whom. */
    readonly asked: { readonly published: string; readonly source: Source };
  };
  /** Most ground whose water runs to one place at the wall, m2; 0 when none worth naming does. */
  readonly arriving_m2: number;
  readonly arriving_at: LngLat | null;
  /** Downspouts that empty closer than the rule has it. */
  readonly close_outlets: readonly {
    readonly downspout: string;
    readonly name: string;
    readonly distance_m: number;
  }[];
  readonly outlet_rule: OutletRule;
}

/** The least distance of an outlet from a wall. */
export interface OutletRule {
  readonly least_m: number;
  readonly published: string;
  readonly source: Source;
}

/** A flow path as drawn: runs down the fall. */
export interface FlowLine {
  readonly points: readonly LngLat[];
  /** What drains through its lower end, m2. */
  readonly area_m2: number;
  /** Run-off that passes its lower end in the storm: what low spots on the way hold back is not in it. */
  readonly volume_m3: number;
}

/** Water below the ground as drawn: runs with the flow. */
export interface PipeLine {
  readonly points: readonly LngLat[];
  /** Id of the yard drain, the open drain pipe, or the downspout that leads into a pipe. */
  readonly drain: string;
  readonly volume_m3: number;
}

/** A stretch of the way that water takes from a place. */
export interface PathLeg {
  readonly by: 'ground' | 'pipe';
  /** Id of the yard drain or open drain pipe; null over the ground. */
  readonly drain: string | null;
  readonly points: readonly LngLat[];
}

/** What a basin comes to as it is built, in cells fine enough for it; what builds it stands above this folder. */
export interface BuiltFigures {
  readonly holdsM3: number;
  readonly cutM3: number;
  readonly fillM3: number;
}

/** A basin as it is cut into the ground. Elevations are above the vertical datum of the source. */
export interface BasinRow {
  readonly id: string;
  /** Inside the rim as it is drawn. */
  readonly area_m2: number;
  /** Water in the bowl up to the sill, as it is built; null where that was not worked out. */
  readonly holds_m3: number | null;
  /** What the cells of the elevation inside the rim hold up to there: a static storm fills these, which are coarser than the bowl. */
  readonly cells_hold_m3: number;
  /** Water in those cells when the storm is over. */
  readonly standing_m3: number;
  readonly rim_m: number;
  readonly overflow_m: number;
  readonly floor_m: number;
  readonly overflow_at: LngLat;
  /** Where overflow runs from there, through drains that have any room, to the edge of the data or into the storm sewer. */
  readonly overflow_path: readonly LngLat[];
  /** The same way in stretches, over the ground and through drains. */
  readonly overflow_legs: readonly PathLeg[];
  /** Id of the first neighbouring lot that this path comes to over the ground; null when it comes to none. */
  readonly overflow_reaches: string | null;
  /** Ground taken away and added as it is built, in place; null where that was not worked out. */
  readonly cut_m3: number | null;
  readonly fill_m3: number | null;
}

/** What one feature of the plan did to the ground. */
export interface EditRow {
  readonly id: string;
  readonly kind: string;
  /** Ground taken away and added, in place; of a basin as it is built, null where that was not worked out. */
  readonly cut_m3: number | null;
  readonly fill_m3: number | null;
  readonly notes: readonly string[];
}

/** What one yard drain or open drain pipe carries in the storm. */
export interface DrainRow {
  readonly id: string;
  /** Where it lets its water out: a place on the ground, the storm sewer, or beyond the data. */
  readonly to: LngLat | 'storm-sewer' | 'off-map';
  readonly capacity_m3_per_h: number;
  readonly carried_m3: number;
  readonly blocked: boolean;
}

/** What `lotfall drainage --json` prints. */
export interface DrainageResult {
  readonly grid: {
    readonly width: number;
    readonly height: number;
    readonly cell_m: number;
    readonly crs: string;
  };
  readonly rain_mm: number;
  readonly low_spots: readonly LowSpotRow[];
  readonly standing: readonly StandingRow[];
  /** Of those that lie on ground that was read; see `not_judged`. */
  readonly buildings: readonly BuildingRow[];
  readonly basins: readonly BasinRow[];
  /** Where levels of the plan stand for the elevation; absent where nowhere. */
  readonly level_ties?: readonly LevelTieRow[];
  /** What the plan's features did to the ground, in the order in which it was done. */
  readonly edits: readonly EditRow[];
  /** Yard drains and open drain pipes. */
  readonly drains: readonly DrainRow[];
  /** Who sends how much water to whom. */
  readonly exchange: readonly Exchange[];
  /** Where, how much and how fast water crosses the line of the own lot; null when the plan has none. */
  readonly crossings: LineCrossings | null;
  /** Lots and buildings outside the elevation that was read, whole or in part. */
  readonly not_judged: readonly NotJudged[];
  /** Of the own lot; null when the plan has none. */
  readonly ledger: Ledger | null;
  /** What the ledger has standing on the own lot, by low spots and puddles; null when the plan has none. */
  readonly standing_on_lot: StandingOnLot | null;
  /** Of the own lot, surface by surface; null when the plan has none. */
  readonly run_off: LotRunOff | null;
  readonly contributing: readonly Contributing[];
  /** What the answer rests on and what it does not know, in the user's words. */
  readonly notes: readonly string[];
}
