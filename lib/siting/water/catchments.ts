import type { XY } from '../../frame/frame';

/** A roof's share that one downspout brings to the ground. */
export interface RoofPart {
  /** What it is called in the plan, for the report. */
  readonly id: string;
  /** Where the water reaches the ground, local metres. */
  readonly at: XY;
  /** Roof area that drains here, m2. */
  readonly areaM2: number;
}

/** What reaches some cells. */
export interface Catch {
  /** Contributing area by itself, over the ground: ground and roofs, m2, each square metre counted once. */
  readonly areaM2: number;
  /** For each roof outlet the share (0-1) of the storm's water from it that comes, less what barrels and low spots hold back. */
  readonly roofShares: ArrayLike<number>;
  /** What the storm brings over the ground, of drains and sumps too, m3; what comes from roofs is left out. */
  readonly runOffM3: number;
}

/** How several groups of cells share the water. */
export interface SharedCatch {
  readonly catches: readonly Catch[];
  /** `onward[i][j]`: share (0-1) of what leaves group i at its lowest cell that comes to group j next. */
  readonly onward: readonly (readonly number[])[];
}

/** What the search needs to know about where water goes. Roofs' water is in all of it, from their outlets on. */
export interface Catchments {
  /** What reaches a set of cells of the elevation. Called a few hundred times. */
  catchAt(cells: Int32Array): Catch;
  /**
   * What reaches each of several groups of cells before any other of them, and where what spills from one goes on to.
   * Called a few dozen times, when several basins share the water.
   */
  catchApart(groups: readonly Int32Array[]): SharedCatch;
  /**
   * The stretches that water takes over the ground from the edge of some cells on, local metres, but for those in pipes;
   * left out where they are not known.
   */
  waysFrom?(at: XY, cells: Int32Array): readonly (readonly XY[])[];
  /** Contributing area of every cell, m2, by multiple flow. Guides the search; the answers come from `catchAt`. */
  readonly accumulationM2: Float32Array;
  readonly roofs: readonly RoofPart[];
}
