import type { Grid } from '../../elevation/grid';
import type { LocalPlan } from '../../plan/local-plan';
import type { SoilSettings } from '../../plan/soil-settings';
import type { ClearLocate } from '../locate/locates';
import type { CheckedBasin } from '../rules/checked-basins';
import type { RuleSet } from '../rules/rule';

/** Water that stands on the ground without the basins when the storm is over. */
export interface StandingWater {
  /** Where the cells lie. */
  readonly grid: Pick<Grid, 'width' | 'height' | 'cellM' | 'westM' | 'northM'>;
  /** Depth by cell, metres. */
  readonly depthM: Float32Array;
}

export interface SetbackInput {
  readonly plan: Pick<LocalPlan, 'of'>;
  readonly basins: readonly CheckedBasin[];
  readonly ruleSet: RuleSet;
  /** The ground before any basin, without raised buildings (`groundWithoutBasins`); `undefined` when there is none. */
  readonly elevation?: Grid | undefined;
  /** Answers of locators who found no line, see `clearLocates`; without them none is on record. */
  readonly locates?: readonly ClearLocate[];
  /** ISO date on which locates must be current. */
  readonly today: string;
  /** The plan's soil settings: rate, depths of water and rock, soil group, the local limit for draining down. */
  readonly soil?: SoilSettings | undefined;
  readonly standing?: StandingWater | undefined;
}
