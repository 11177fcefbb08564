/** A volume of water and the lot it comes from or goes to; `lot` is null for the street and all that is on no lot of the plan. */
export interface Share {
  readonly lot: string | null;
  readonly name: string;
  readonly volume_m3: number;
}

/**
 * The water ledger of one lot for one storm: what comes in and where it ends, cubic metres.
 *
 * `rain + run_on = soaked + standing + basin + sewer + passed_on + error`.
 */
export interface Ledger {
  readonly lot: string;
  /** Rain on the lot, its roofs included. */
  readonly rain_m3: number;
  /** Run-off that enters from outside. */
  readonly run_on_m3: number;
  /** Rain that does not run off: soaked in, or held on leaves, boards and roofs. */
  readonly soaked_m3: number;
  /** Stands in low spots of the lot when the storm is over, basins not counted. */
  readonly standing_m3: number;
  /** Stands in basins of the lot when the storm is over. */
  readonly basin_m3: number;
  /** Leaves by downspouts into the storm sewer. */
  readonly sewer_m3: number;
  /** Leaves over the ground. */
  readonly passed_on_m3: number;
  /** What the sums miss: rounding alone. */
  readonly error_m3: number;
  readonly run_on_from: readonly Share[];
  /** By the lot that the water enters when it last leaves this one. */
  readonly passed_on_to: readonly Share[];
}
