import type { CoverCondition, Cover, SoilGroup } from './curve-numbers';

/** What decides how much of an event's water runs off a surface. A roof's condition and soil group count for nothing. */
export interface SurfaceClass {
  /** `basin` is the inside of a rain garden: all that falls on it comes to it. */
  readonly cover: Cover | 'roof' | 'basin';
  readonly condition: CoverCondition;
  readonly group: SoilGroup;
  /** The lot that unconnected paving lies on, over whose open ground its water spreads; left out for all else. */
  readonly spreadsOn?: SpreadingLot;
}

/** A lot on which unconnected paving lies, by what covers it, square metres. */
export interface SpreadingLot {
  /** What is neither roof nor paving. */
  readonly open: readonly { readonly surface: SurfaceClass; readonly areaM2: number }[];
  /** Roofs and paving of every kind. */
  readonly sealedM2: number;
  /** Of that the unconnected paving. */
  readonly unconnectedM2: number;
}
