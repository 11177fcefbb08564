import type { Grid } from '../../elevation/grid';
import { featureName } from '../../plan/feature-name';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { deepestNear } from './deepest-near';

/** Water so near to a window well runs in when it stands over its rim, metres. Our choice, no source. */
const atWellM = 0.6;
/** Less than this in the well's way is a film, metres. Our choice, no source. */
const filmM = 0.005;

/**
 * What is to be said of works that this reckoning of surface water has no figures for, and why; of window wells, whether
 * the storm's standing water comes over their rims.
 *
 * @param depthM - standing water by cell when the storm is over.
 */
export function worksNotJudged(
  { of }: Pick<LocalPlan, 'of'>,
  grid: Grid,
  depthM: Float32Array,
): string[] {
  return [
    ...drawnButNotJudged(of),
    ...of['window-well'].map((well) => wellNote(well, grid, depthM)),
  ];
}

/** The same of what needs no heights to be said. */
export function drawnButNotJudged(of: LocalPlan['of']): string[] {
  return [
    ...about(
      of['french-drain'],
      'not judged: it draws down water that is in the ground, and here only water on the ground is followed. For a puddle on top take a yard drain, a trench drain or a swale.',
    ),
    ...about(
      of.fence,
      'water runs on below it: what a fence that is closed to the ground holds back is shown by drawing it as a wall.',
    ),
  ];
}

function about(
  features: readonly LocalFeature<'french-drain' | 'fence'>[],
  what: string,
): string[] {
  if (features.length === 0) return [];
  return [`${features.map(({ feature }) => featureName(feature)).join(', ')}: ${what}`];
}

function wellNote(
  { feature, shape }: LocalFeature<'window-well'>,
  grid: Grid,
  depthM: Float32Array,
): string {
  const rimM = feature.properties.rim_m ?? 0;
  const stands = deepestNear(grid, depthM, shape.at, atWellM);
  const name = featureName(feature);
  const inside = 'How deep it then stands in the well is not judged: that hangs on its drain.';
  if (stands > rimM + filmM) {
    return `${name}: water stands ${cm(stands)} deep there and comes over its rim of ${cm(rimM)}. ${inside}`;
  }
  return stands > filmM
    ? `${name}: water stands ${cm(stands)} deep there and stays below its rim of ${cm(rimM)}. What seeps in through the ground is not judged.`
    : `${name}: no water stands at its rim in this storm. What runs past it, falls in, or seeps in through the ground is not judged.`;
}

function cm(metres: number): string {
  return `${(100 * metres).toFixed(0)} cm`;
}
