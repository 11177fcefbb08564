import { areaM2, centroid, contains } from '../frame/shapes';
import type { XY } from '../frame/frame';
import { featureName } from '../plan/feature-name';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';

/** A hard area of the own lot whose water could be led to a garden. */
export interface DrainedArea {
  readonly id: string;
  readonly name: string;
  readonly what: 'downspout' | 'roof' | 'paving';
  readonly areaM2: number;
  /** Where its water comes to the ground; null where that cannot be told without the heights. */
  readonly outlet: XY | null;
}

/** Roofs by their downspouts, and paving, of the own lot; of all where no lot is one's own. */
export function drainedAreas(plan: LocalPlan): DrainedArea[] {
  const own = plan.of.lot.filter(({ feature }) => feature.properties.own);
  const isHome = (feature: LocalFeature<'roof' | 'surface'>): boolean =>
    own.length === 0 ||
    own.some(({ shape }) => contains(shape.rings, centroid(feature.shape.rings)));
  return [
    ...plan.of.roof.filter(isHome).flatMap((roof) => roofAreas(plan, roof)),
    ...plan.of.surface
      .filter((surface) => surface.feature.properties.cover === 'paving' && isHome(surface))
      .map(({ id, feature, shape }): DrainedArea => ({
        id,
        name: featureName(feature),
        what: 'paving',
        areaM2: areaM2(shape.rings),
        outlet: null,
      })),
  ];
}

/** A roof shared out among its downspouts: as given, what is left in equal parts. */
function roofAreas(plan: LocalPlan, { id, feature, shape }: LocalFeature<'roof'>): DrainedArea[] {
  const wholeM2 = areaM2(shape.rings);
  const spouts = plan.of.downspout.filter((spout) => spout.feature.properties.roof === id);
  if (spouts.length === 0) {
    return [{ id, name: featureName(feature), what: 'roof', areaM2: wholeM2, outlet: null }];
  }
  const given = spouts.reduce((sum, spout) => sum + (spout.feature.properties.share ?? 0), 0);
  const open = spouts.filter((spout) => spout.feature.properties.share === undefined).length;
  const scale = open === 0 && given > 0 ? 1 / given : 1;
  return spouts.map((spout): DrainedArea => {
    const { share } = spout.feature.properties;
    const part = share === undefined ? Math.max(0, 1 - given) / open : share * scale;
    return {
      id: spout.id,
      name: featureName(spout.feature),
      what: 'downspout',
      areaM2: wholeM2 * part,
      outlet: spout.outlet === 'storm-sewer' ? spout.shape.at : spout.outlet,
    };
  });
}
