import type { Progress } from '../errors';
import type { Grid } from '../elevation/grid';
import { ground, type Ground } from '../ground/ground';
import type { LocalPlan } from '../plan/local-plan';
import { makeRouting, type Routing } from './routing';
import { buildTerrain, type Terrain } from './terrain';
import type { Workspace } from './workspace';

/** The ground with everything that its shape alone decides; another storm uses it again. */
export interface ShapedGround {
  /** Bare heights as read. */
  readonly elevation: Grid;
  readonly ground: Ground;
  readonly terrain: Terrain;
  readonly routing: Routing;
  readonly cellM2: number;
}

/**
 * Makes the ground from elevation and plan and finds how water runs over it.
 *
 * @param options.workspace - that of an earlier run, whose results are then overwritten.
 * @throws {Cancelled}
 * Cost: linear in cells; see `npm run bench`.
 */
export function shapeGround(
  elevation: Grid,
  plan: LocalPlan,
  options: { workspace?: Workspace; signal?: AbortSignal; onProgress?: Progress } = {},
): ShapedGround {
  const built = ground(elevation, plan);
  const { width, height, z, cellM } = built.grid;
  const terrain = buildTerrain(z, width, height, options);
  return {
    elevation,
    ground: built,
    terrain,
    routing: makeRouting(terrain),
    cellM2: cellM * cellM,
  };
}
