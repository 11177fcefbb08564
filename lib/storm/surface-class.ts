import type { Condition, Cover, SoilGroup } from './curve-numbers';

/** What decides how much of an event's water runs off a surface. A roof's condition and soil group count for nothing. */
export interface SurfaceClass {
  readonly cover: Cover | 'roof';
  readonly condition: Condition;
  readonly group: SoilGroup;
}
