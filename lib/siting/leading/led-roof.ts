import type { XY } from '../../frame/frame';

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
