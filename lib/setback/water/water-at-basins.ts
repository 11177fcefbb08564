import { designBasins } from '../../basin/design/design-basins';
import type { DesignResult } from '../../basin/design/design-result';
import { overflowCourse, overGround } from '../../drainage/answer/overflow-course';
import { shapeGround } from '../../drainage/storm/shaped-ground';
import { stormOnGround } from '../../drainage/storm/storm-on-ground';
import type { Survey } from '../../drainage/storm/survey-lot';
import { InputError } from '../../errors';
import { endsInBasin } from '../../ground/ground';
import { toLocal } from '../../plan/local-plan';
import { eventDepthMm } from '../../storm/event-depth';
import { designedDrainDownH } from './designed-drain-down';
import { designedOverflow } from './designed-overflow';
import type { KnownOfBasin } from '../rules/checked-basins';
import type { Rule, RuleSet } from '../rules/rule';
import type { StandingWater } from '../judge/setback-input';

/** What rules about water want to know of the ground, where there is elevation. */
export interface WaterAtBasins {
  readonly standing: StandingWater | undefined;
  /** The stretches over the ground of each basin's overflow, and its design's verdict, by the basin's id. */
  readonly overflow: ReadonlyMap<string, Pick<KnownOfBasin, 'overflowWays' | 'overflowVerdict'>>;
  /** How long water stands in each basin by its simulation, hours, by the basin's id; those are missing of which it is not known. */
  readonly drainDownH: ReadonlyMap<string, number>;
  /** Why the basins could not be filled and drained; one sentence. */
  readonly notes: readonly string[];
}

/**
 * Pours the plan's storm on the ground without its basins, for where water stands already, fills and drains them, and
 * follows their overflow over the ground and through pipes: only what the rules of the set ask about.
 *
 * @param known - the design of the survey's basins, where it has been worked out already.
 * Cost: for standing water and for the basins a pass over the ground each, and a quarter of a second a basin.
 */
export function waterAtBasins(
  survey: Survey,
  ruleSet: RuleSet,
  known?: DesignResult,
): WaterAtBasins {
  const asks = (test: Rule['test']): boolean => ruleSet.rules.some((rule) => rule.test === test);
  const { drainDownH, overflow, notes } =
    asks('drain-down') || asks('overflow') ? designed(survey, known) : nothing;
  return {
    standing: asks('wet-spot') ? standingBefore(survey) : undefined,
    // A basin that could not be worked out overflows all the same.
    overflow: asks('overflow') ? new Map([...waysBySurface(survey), ...overflow]) : new Map(),
    drainDownH,
    notes,
  };
}

const nothing = { drainDownH: new Map(), overflow: new Map(), notes: [] } as const;

function standingBefore({ elevation: { grid }, plan }: Survey): StandingWater {
  // What leads to a basin is dug with it, and without it would end in a hole.
  const leadIns = new Set(
    plan.of.swale.filter(({ shape }) => endsInBasin(plan, shape.points)).map(({ id }) => id),
  );
  const features = plan.plan.features.filter(
    ({ id, properties }) => properties.kind !== 'basin' && !leadIns.has(id),
  );
  const bare = toLocal({ ...plan.plan, features }, plan.frame);
  const { depthM } = stormOnGround(shapeGround(grid, bare), bare, eventDepthMm(plan.plan.lotfall));
  return { grid, depthM };
}

/** The ways without regard to how much overflows. */
function waysBySurface({ plan, shape }: Survey): WaterAtBasins['overflow'] {
  return new Map(
    shape.ground.basins.map((basin) => [
      basin.id,
      { overflowWays: overGround(overflowCourse(shape, plan, basin, 0)) },
    ]),
  );
}

/** Fills and drains the basins, for how long water stands and for the ways of their overflow at its peak. */
function designed(
  { elevation, plan, shape }: Survey,
  known: DesignResult | undefined,
): Pick<WaterAtBasins, 'drainDownH' | 'overflow' | 'notes'> {
  try {
    const design =
      known ??
      designBasins({
        elevation: elevation.grid,
        plan,
        shape,
        storm: stormOnGround(shape, plan, eventDepthMm(plan.plan.lotfall)),
      });
    const drainDownH = new Map<string, number>();
    const ways: [string, NonNullable<ReturnType<typeof designedOverflow>>][] = [];
    for (const { id } of plan.of.basin) {
      const hours = designedDrainDownH(design, id);
      if (hours !== undefined) drainDownH.set(id, hours);
      const overflow = designedOverflow(design, id, plan.frame);
      if (overflow !== undefined) ways.push([id, overflow]);
    }
    return { drainDownH, overflow: new Map(ways), notes: [] };
  } catch (error) {
    // A storm that cannot be poured does not keep distances from being checked.
    if (!(error instanceof InputError)) throw error;
    return {
      drainDownH: new Map(),
      overflow: new Map(),
      notes: [`The basins could not be filled and drained: ${error.message}`],
    };
  }
}
