import { stormOnGround } from '../../drainage/storm/storm-on-ground';
import type { Survey } from '../../drainage/storm/survey-lot';
import type { Progress } from '../../errors';
import { eventDepthMm } from '../../storm/event-depth';
import type { BasinAsBuilt } from '../form/as-built';
import { designBasins } from './design-basins';
import type { DesignResult } from './design-result';

/** Basins of a plan on its ground, designed and as built. */
export interface DesignedSurvey {
  readonly design: DesignResult;
  readonly built: ReadonlyMap<string, BasinAsBuilt>;
}

/** Designs the basins of a plan for its storm. @throws {InputError} what `designBasins` throws. */
export function designSurvey(
  { elevation, plan, shape }: Survey,
  onProgress?: Progress,
): DesignedSurvey {
  const built = new Map<string, BasinAsBuilt>();
  const design = designBasins({
    elevation: elevation.grid,
    plan,
    shape,
    storm: stormOnGround(shape, plan, eventDepthMm(plan.plan.lotfall)),
    onBuilt: (each) => built.set(each.id, each),
    ...(onProgress === undefined ? {} : { onProgress }),
  });
  return { design, built };
}
