import { cellAt, cellCentre, elevationAt } from '../../elevation/grid';
import type { LngLat, XY } from '../../frame/frame';
import { cellsAround } from '../../ground/rasterise';
import type { LocalPlan } from '../../plan/local-plan';
import { contributingArea } from './contributing-area';
import type { Contributing, PathLeg } from './drainage-result';
import { followWater } from './follow-water';
import { pathFrom } from './path-from';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';
import { filmM } from './water-at-building';
import { waterEnd, type WaterEnd } from './water-end';
import { cellsBelowLevel } from '../storm/water-surface';

/** Ground within this of a point stands for it, metres: water spreads, so a single cell says little. Our choice, no source. */
export const pointReachM = 1;

/** What one place on the ground answers. */
export interface PointAnswer {
  readonly at: LngLat;
  readonly elevation_m: number;
  /** Standing water when the storm is over. */
  readonly depth_m: number;
  /** From the place over the ground to the edge of the data, as if there were no drains. */
  readonly path: readonly LngLat[];
  /** The way of this storm's water, through drains where they take it. */
  readonly legs: readonly PathLeg[];
  /** Where that water is when the storm is over. */
  readonly end: WaterEnd;
  readonly contributing: Contributing;
  /** Whether the place stands in water: what drains there is then what drains to the whole pool's low spot. */
  readonly inPool: boolean;
}

/**
 * Where water goes from a place, and what drains to it.
 *
 * @returns null where there is no ground: outside the data, or under a building.
 * Cost: O(n).
 */
export function probePoint(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  at: LngLat,
): PointAnswer | null {
  const { ground, terrain, routing } = shape;
  const { grid, obstacle } = ground;
  const local = plan.frame.toLocal(at);
  const cell = cellAt(grid, local[0], local[1]);
  if (cell === -1 || Number.isNaN(grid.z[cell]) || obstacle[cell] === 1) return null;

  const inPool = storm.depthM[cell] > filmM;
  const root = terrain.tree.root[terrain.catchment[cell]];
  const target = inPool
    ? cellsBelowLevel(terrain, root, terrain.tree.spill[root])
    : Int32Array.from(cellsWithin(shape, local, pointReachM));
  const legs = followWater(shape, storm, plan, cell);
  return {
    at,
    elevation_m: elevationAt(grid, cell),
    depth_m: storm.depthM[cell],
    path: [at, ...pathFrom(routing, grid, plan.frame, cell).slice(1)],
    legs,
    end: waterEnd(shape, storm, plan, legs),
    contributing: contributingArea(shape, storm, plan, target, 'point'),
    inPool,
  };
}

/** Open cells whose centre lies within a distance of a place; at least the cell at the place. */
function* cellsWithin({ ground }: ShapedGround, at: XY, reachM: number): Generator<number> {
  const { grid, obstacle } = ground;
  yield cellAt(grid, at[0], at[1]);
  for (const cell of cellsAround(grid, [at], reachM)) {
    const [x, y] = cellCentre(grid, cell);
    if (Math.hypot(x - at[0], y - at[1]) <= reachM && obstacle[cell] === 0) yield cell;
  }
}
