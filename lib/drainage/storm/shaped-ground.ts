import type { Grid } from '../../elevation/grid';
import { ground, type Ground } from '../../ground/ground';
import type { LocalPlan } from '../../plan/local-plan';
import { makeRouting, type Routing } from '../terrain/routing';
import { atOnce, partOf, type StepOptions, type Steps } from '../steps';
import { terrainSteps, type Terrain } from '../terrain/terrain';
import type { Workspace } from '../terrain/workspace';

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
  options: { workspace?: Workspace } & StepOptions = {},
): ShapedGround {
  return atOnce(shapeSteps(elevation, plan, options.workspace), options);
}

/** The steps of `shapeGround`. */
export function* shapeSteps(
  elevation: Grid,
  plan: LocalPlan,
  workspace?: Workspace,
): Steps<ShapedGround> {
  yield { fraction: 0, stage: 'Building on the ground' };
  const built = ground(elevation, plan);
  const { width, height, z, cellM } = built.grid;
  const terrain = yield* partOf(terrainSteps(z, width, height, workspace), 0.1, 0.5);
  yield { fraction: 0.5, stage: 'Finding flow directions' };
  const routing = makeRouting(terrain, cellM * cellM);
  yield { fraction: 1, stage: 'Finding flow directions' };
  return { elevation, ground: built, terrain, routing, cellM2: cellM * cellM };
}
