import type { PlanGeometry } from '../../state/plan/plan-geometry';

/** Which part of a feature moves: its geometry, or the place or line that one of its properties names. */
export type Part = 'geometry' | 'outlet' | 'overflow' | 'ridge';

/** What a gesture has made so far. */
export interface Draft {
  /** `null` for a feature that is being drawn and has no id yet. */
  readonly id: string | null;
  readonly part: Part;
  /** A line for a ridge, a point for an outlet or overflow. */
  readonly geometry: PlanGeometry;
}
