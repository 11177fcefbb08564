import type { WaterAtBuilding } from '../drainage/answer/drainage-result';

/** How much of what concerns a lot the elevation shows: all; not all of it, or not all that drains to it; nothing of it. */
export type LotReach = 'whole' | 'cut' | 'outside';

/**
 * Where the water of one storm is that fell on a lot or ran on to it, cubic metres.
 *
 * `rain + sump + from_lots + from_elsewhere = soaked + barrel + standing + basin + sewer + off_data + to_lots + to_elsewhere + error`.
 */
export interface LotWaterRow {
  readonly rain_m3: number;
  /** Ground water that sumps of the lot put out. */
  readonly sump_m3: number;
  readonly soaked_m3: number;
  readonly barrel_m3: number;
  /** Stands in low spots when the storm is over, basins not counted. */
  readonly standing_m3: number;
  /** Held by basins: standing in them, and taken into what lies below. */
  readonly basin_m3: number;
  readonly sewer_m3: number;
  /** Runs off the edge of the elevation data. */
  readonly off_data_m3: number;
  /** Over lot lines, each way; what only winds over a line from cell to cell is left out. */
  readonly from_lots_m3: number;
  readonly to_lots_m3: number;
  /** Over the lines to the street and all other ground that is on no lot. */
  readonly from_elsewhere_m3: number;
  readonly to_elsewhere_m3: number;
  /** What the sums miss: rounding alone. */
  readonly error_m3: number;
  /** Buildings on the lot with water at the wall or near it. */
  readonly wet_buildings: readonly WaterAtBuilding[];
}

/** Between what a figure lies in nine of ten surfaces. */
interface LotRange {
  readonly lowest: number;
  readonly highest: number;
}

/** How sure what is said of a lot is: shares of the equally likely surfaces that were tried, 0 to 1. */
export interface LotCertainty {
  /** On which any of its buildings has water near a wall. */
  readonly wet_before: number;
  readonly wet_after: number;
  readonly standing_after_m3: LotRange;
  readonly from_lots_after_m3: LotRange;
  /** On which the lot is worse off after than before. */
  readonly worse: number;
  /** Whether that is nearly all of them: worse by more than the error of the ground. */
  readonly worse_beyond_error: boolean;
}

/** One lot in one storm. */
export interface ReviewedLot {
  readonly lot: string;
  readonly name: string;
  readonly reach: LotReach;
  /** Of its outline. */
  readonly area_m2: number;
  /** Without the gardens, and what else is only proposed; null for a lot outside the elevation. */
  readonly before: LotWaterRow | null;
  readonly after: LotWaterRow | null;
  /** What is worse after than before, in words; empty where nothing is. */
  readonly worse: readonly string[];
  /** Only where it was asked. */
  readonly certainty?: LotCertainty;
}

/** What crosses the line between two lots, or a lot and other ground (null), each way and net. */
export interface ReviewedLine {
  readonly a: string;
  readonly b: string | null;
  readonly a_to_b_m3: number;
  readonly b_to_a_m3: number;
  /** `a_to_b - b_to_a`. */
  readonly net_m3: number;
  /** The same each way with what winds over the line from cell to cell counted each time. */
  readonly a_to_b_gross_m3: number;
  readonly b_to_a_gross_m3: number;
}

/** Run-off of one lot, its roofs included, and where it ends when the storm is over, whatever it crossed on the way. */
export interface ReviewedOrigin {
  readonly from: string;
  /** Stands on a lot, or on ground that is on none; or left by a sewer, into the soil below basins, or off the elevation data. */
  readonly ends: 'lot' | 'elsewhere' | 'storm-sewer' | 'soil' | 'off-map';
  /** The lot that it stands on; null where it stands on none. */
  readonly lot: string | null;
  readonly volume_m3: number;
}

/** Sums over all lots that are in the data; the lines between them cancel out. */
export interface ReviewedWhole {
  readonly lots: number;
  readonly whole: number;
  readonly cut: number;
  readonly outside: number;
  readonly standing_before_m3: number;
  readonly standing_after_m3: number;
  readonly basin_before_m3: number;
  readonly basin_after_m3: number;
  /** What leaves all lots together: over lines to other ground, into sewers, off the data. */
  readonly leaves_before_m3: number;
  readonly leaves_after_m3: number;
  readonly wet_buildings_before: number;
  readonly wet_buildings_after: number;
}

/** One proposed garden dug alone. */
export interface GardenAlone {
  readonly garden: string;
  readonly name: string;
  /** Inside the rim. */
  readonly area_m2: number;
  /** Water near walls that is no longer there, m3; and for a square metre of garden. */
  readonly walls_m3: number;
  /** Water that no longer leaves the lots, m3; and for a square metre of garden, m. */
  readonly kept_m3: number;
  readonly kept_m3_per_m2: number;
  /** The lot that most of it lies on; null for one on no lot. */
  readonly lot: string | null;
  /** What it holds when the storm is over, standing in it and soaked in, m3; and what it keeps for each of these. */
  readonly holds_m3: number;
  readonly kept_m3_per_m3: number | null;
  /** Lots that are worse off, in words. */
  readonly harms: readonly string[];
}

/** Which of the proposed gardens are worth most. */
export interface GardenChoice {
  /** The best first: drier walls, then more water kept for its area; those that harm somebody last. */
  readonly alone: readonly GardenAlone[];
  readonly budget_m2: number;
  /** The best together for the budget, in an order of building in which nobody is ever worse off; null where there are none. */
  readonly best: {
    readonly gardens: readonly string[];
    readonly area_m2: number;
    readonly walls_m3: number;
    readonly kept_m3: number;
    readonly exhaustive: boolean;
    readonly tried: number;
  } | null;
}

/** The document of `lotfall review`. */
export interface ReviewResult {
  readonly rain_mm: number;
  readonly lots: readonly ReviewedLot[];
  readonly lines_before: readonly ReviewedLine[];
  readonly lines_after: readonly ReviewedLine[];
  readonly whole: ReviewedWhole;
  /** More than this a lot must get to count as worse off. */
  readonly worse_from: {
    readonly volume_m3: number;
    readonly share: number;
    readonly depth_m: number;
  };
  /** After the gardens; only where it was asked. */
  readonly origins?: readonly ReviewedOrigin[];
  /** Only where it was asked how sure the rows are: how many surfaces were tried, and with what vertical error. */
  readonly tried?: { readonly surfaces: number; readonly rmse_m: number };
  /** Only where it was asked which gardens to dig. */
  readonly gardens?: GardenChoice;
  readonly notes: readonly string[];
}
