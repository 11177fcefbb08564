/**
 * How much water a bowl holds at each depth: a table by height over the lowest point of its floor. Between two
 * entries the area is linear and the volume its integral.
 */
export interface StageStorage {
  /** Heights over the lowest point, ascending from 0, metres; the last is the rim. */
  readonly depthsM: Float64Array;
  /** Area of the water's surface at each, m2. */
  readonly areasM2: Float64Array;
  /** Water held below each, m3; 0 at the first. */
  readonly volumesM3: Float64Array;
  /** Height of the notch's sill: water above it overflows. */
  readonly overflowDepthM: number;
}
