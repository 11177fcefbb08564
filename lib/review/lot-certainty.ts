import { shapeGround } from '../drainage/storm/shaped-ground';
import {
  addError,
  errorLiftM,
  shakenGrid,
  type ErrorModel,
} from '../drainage/height-error/error-field';
import { Workspace } from '../drainage/terrain/workspace';
import type { Steps } from '../drainage/steps';
import { inStorm, type BuiltBasins } from './in-storm';
import type { ReviewQuestion } from './review-question';
import type { LotCertainty, LotWaterRow } from './review-result';
import { isWorseOff } from './worse-off';

/** How wrong the heights may be, and how many equally likely surfaces are tried. */
export interface LotErrors {
  readonly errors: ErrorModel;
  readonly seed: number;
  readonly surfaces: number;
}

/** Surfaces that are tried where nobody says: a coarse answer, in steps of one in twenty. Our choice. */
export const usualLotSurfaces = 20;
/** Of a range this share of the surfaces is left out at either end. */
const tailShare = 0.05;
/** Worse on this share of the surfaces and more is worse by more than the error of the ground. Our choice, no source. */
const sureShare = 0.95;

/**
 * How sure the rows of a review are: the storm is tried before and after on the same equally likely surfaces, so that an error
 * that is in both falls out of the difference. Basins are built as on the ground that was read.
 *
 * @returns in the order of the ground's lots. Cost: two storms on newly shaped ground for each surface.
 */
export function* lotCertaintySteps(
  { shape, plan, before, rainMm }: ReviewQuestion,
  { errors, seed, surfaces }: LotErrors,
  built: BuiltBasins,
): Steps<LotCertainty[]> {
  const { elevation } = shape;
  const workspace = new Workspace();
  const z = new Float32Array(elevation.z.length);
  const liftM = errorLiftM(errors);
  const tried: { was: readonly LotWaterRow[]; is: readonly LotWaterRow[] }[] = [];
  for (let index = 0; index < surfaces; index++) {
    yield { fraction: index / surfaces, stage: 'Trying equally likely surfaces' };
    addError(elevation, errors, { seed, index }, z, workspace, liftM);
    const surface = shakenGrid(elevation, errors, z, liftM);
    const was = inStorm(shapeGround(surface, before), before, rainMm, built).rows;
    yield { fraction: (index + 0.5) / surfaces, stage: 'Trying equally likely surfaces' };
    tried.push({ was, is: inStorm(shapeGround(surface, plan), plan, rainMm, built).rows });
  }
  return shape.ground.lots.map((_, lot): LotCertainty => {
    const rows = tried.map(({ was, is }) => ({ was: was[lot], is: is[lot] }));
    const share = (counts: (row: (typeof rows)[number]) => boolean): number =>
      rows.filter(counts).length / surfaces;
    const worse = share(({ was, is }) => isWorseOff(was, is));
    return {
      wet_before: share(({ was }) => was.wet_buildings.length > 0),
      wet_after: share(({ is }) => is.wet_buildings.length > 0),
      standing_after_m3: rangeOf(rows.map(({ is }) => is.standing_m3)),
      from_lots_after_m3: rangeOf(rows.map(({ is }) => is.from_lots_m3)),
      worse,
      worse_beyond_error: worse >= sureShare,
    };
  });
}

function rangeOf(values: readonly number[]): LotCertainty['standing_after_m3'] {
  const sorted = [...values].sort((a, b) => a - b);
  const tail = Math.floor(tailShare * sorted.length);
  return { lowest: sorted[tail], highest: sorted[sorted.length - 1 - tail] };
}
