import { designBasins } from '../basin/design-basin';
import { pathFrom } from '../drainage/path-from';
import { shapeGround } from '../drainage/shaped-ground';
import { stormOnGround } from '../drainage/storm-on-ground';
import type { Survey } from '../drainage/survey-lot';
import { cellAt } from '../elevation/grid';
import { InputError } from '../errors';
import type { XY } from '../frame/frame';
import { toLocal } from '../plan/local-plan';
import { eventDepthMm } from '../storm/event-depth';
import { designedDrainDownH } from './designed-drain-down';
import type { Rule, RuleSet } from './rule';
import type { StandingWater } from './setback-result';

/** What rules about water want to know of the ground, where there is elevation. */
export interface WaterAtBasins {
  readonly standing: StandingWater | undefined;
  /** The way of each basin's overflow, by the basin's id. */
  readonly overflowPaths: ReadonlyMap<string, readonly XY[]>;
  /** How long water stands in each basin by its simulation, hours, by the basin's id; those are missing of which it is not known. */
  readonly drainDownH: ReadonlyMap<string, number>;
  /** Why the basins could not be filled and drained; one sentence. */
  readonly notes: readonly string[];
}

/**
 * Pours the plan's storm on the ground without its basins, for where water stands already, follows the overflow over
 * the ground with them, and fills and drains them: only what the rules of the set ask about.
 *
 * Cost: for standing water and for the basins a pass over the ground each, and a quarter of a second a basin.
 */
export function waterAtBasins(survey: Survey, ruleSet: RuleSet): WaterAtBasins {
  const asks = (test: Rule['test']): boolean => ruleSet.rules.some((rule) => rule.test === test);
  return {
    standing: asks('wet-spot') ? standingBefore(survey) : undefined,
    overflowPaths: asks('overflow') ? overflowPaths(survey) : new Map(),
    ...(asks('drain-down') ? drainDown(survey) : { drainDownH: new Map(), notes: [] }),
  };
}

function standingBefore({ elevation: { grid }, plan }: Survey): StandingWater {
  const features = plan.plan.features.filter(({ properties }) => properties.kind !== 'basin');
  const bare = toLocal({ ...plan.plan, features }, plan.frame);
  const { depthM } = stormOnGround(shapeGround(grid, bare), bare, eventDepthMm(plan.plan.lotfall));
  return { grid, depthM };
}

function overflowPaths({
  plan,
  shape: { ground, routing },
}: Survey): ReadonlyMap<string, readonly XY[]> {
  return new Map(
    ground.basins.map(({ id, overflowAt }) => [
      id,
      pathFrom(routing, ground.grid, plan.frame, cellAt(ground.grid, ...overflowAt)).map((at) =>
        plan.frame.toLocal(at),
      ),
    ]),
  );
}

function drainDown({
  elevation,
  plan,
  shape,
}: Survey): Pick<WaterAtBasins, 'drainDownH' | 'notes'> {
  try {
    const storm = stormOnGround(shape, plan, eventDepthMm(plan.plan.lotfall));
    const design = designBasins({ elevation: elevation.grid, plan, shape, storm });
    const known = plan.of.basin.flatMap(({ id }): [string, number][] => {
      const hours = designedDrainDownH(design, id);
      return hours === undefined ? [] : [[id, hours]];
    });
    return { drainDownH: new Map(known), notes: [] };
  } catch (error) {
    // A storm that cannot be poured does not keep distances from being checked.
    if (!(error instanceof InputError)) throw error;
    return {
      drainDownH: new Map(),
      notes: [`The basins could not be filled and drained: ${error.message}`],
    };
  }
}
