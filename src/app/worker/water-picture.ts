import { drainSteps } from '../../../lib/drainage/answer/drain-lot';
import { flowLines } from '../../../lib/drainage/answer/flow-lines';
import { nextReadings } from '../../../lib/drainage/answer/measure-next';
import { observedWater } from '../../../lib/drainage/answer/observed-water';
import { pipeLines } from '../../../lib/drainage/answer/pipe-lines';
import { partOf, type Steps } from '../../../lib/drainage/steps';
import type { ShapedGround } from '../../../lib/drainage/storm/shaped-ground';
import type { StormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import type { WaterPicture } from './analysis-api';
import { sureWater } from './sure-water';

/** Flow lines start where this much open ground drains through, m2. A choice for legibility. */
const lineFromM2 = 30;

/** A plan with its storm on its ground. */
export interface Stormed {
  readonly local: LocalPlan;
  readonly shape: ShapedGround;
  readonly storm: StormOnGround;
}

/** What one storm on one ground has to say, ready to be drawn. */
export function* waterSteps(
  { local, shape, storm }: Stormed,
  crs: string,
): Steps<Omit<WaterPicture, 'before' | 'depthBeforeM'>> {
  const rmseM = local.plan.lotfall.elevation?.rmse_m;
  const about = { crs, ...(rmseM === undefined ? {} : { rmseM }) };
  const result = yield* partOf(drainSteps(shape, storm, local, about), 0, 0.9);
  yield { fraction: 0.9, stage: 'Drawing flow paths' };
  const picture = {
    result,
    depthM: storm.depthM.slice(),
    sure: sureWater(shape, result.low_spots),
    flowLines: flowLines(shape, storm, local.frame, lineFromM2),
    pipeLines: pipeLines(shape, storm, local),
  };
  const next = nextReadings(shape, local, result.low_spots);
  // Last, for its storms write over the one that is told here.
  return { ...picture, next, seen: observedWater(shape, local, storm.rainMm) };
}
