import { pathFrom } from '../drainage/path-from';
import { shapeGround } from '../drainage/shaped-ground';
import { stormOnGround } from '../drainage/storm-on-ground';
import { cellAt, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { toLocal, type LocalPlan } from '../plan/local-plan';
import type { RuleSet } from './rule';
import type { StandingWater } from './setback-result';

/** What rules about water want to know of the ground, where there is elevation. */
export interface WaterAtBasins {
  readonly standing: StandingWater | undefined;
  /** The way of each basin's overflow, by the basin's id. */
  readonly overflowPaths: ReadonlyMap<string, readonly XY[]>;
}

/**
 * Pours the storm on the ground without its basins, for where water stands already, and follows the overflow over the
 * ground with them: only what the rules of the set ask about.
 *
 * @param elevation - bare heights as read.
 * Cost: shaping the ground, once for each of the two questions that the set asks.
 */
export function waterAtBasins(
  elevation: Grid,
  local: LocalPlan,
  ruleSet: RuleSet,
  rainMm: number,
): WaterAtBasins {
  const asks = (test: string): boolean => ruleSet.rules.some((rule) => rule.test === test);
  return {
    standing: asks('wet-spot') ? standingBefore(elevation, local, rainMm) : undefined,
    overflowPaths: asks('overflow') ? overflowPaths(elevation, local) : new Map(),
  };
}

function standingBefore(elevation: Grid, local: LocalPlan, rainMm: number): StandingWater {
  const features = local.plan.features.filter(({ properties }) => properties.kind !== 'basin');
  const bare = toLocal({ ...local.plan, features }, local.frame);
  const { depthM } = stormOnGround(shapeGround(elevation, bare), bare, rainMm);
  return { grid: elevation, depthM };
}

function overflowPaths(elevation: Grid, local: LocalPlan): ReadonlyMap<string, readonly XY[]> {
  const { ground, routing } = shapeGround(elevation, local);
  return new Map(
    ground.basins.map(({ id, overflowAt }) => [
      id,
      pathFrom(routing, ground.grid, local.frame, cellAt(ground.grid, ...overflowAt)).map((at) =>
        local.frame.toLocal(at),
      ),
    ]),
  );
}
