import { areaM2, centroid, contains } from '../frame/shapes';
import type { XY } from '../frame/frame';
import { featureName } from '../plan/feature-name';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import { roofShareM2 } from '../setback/judge/outlets';

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

/** A roof shared out among its downspouts. */
function roofAreas(plan: LocalPlan, { id, feature, shape }: LocalFeature<'roof'>): DrainedArea[] {
  const spouts = plan.of.downspout.filter((spout) => spout.feature.properties.roof === id);
  if (spouts.length === 0) {
    const name = featureName(feature);
    return [{ id, name, what: 'roof', areaM2: areaM2(shape.rings), outlet: null }];
  }
  return spouts.map((spout): DrainedArea => ({
    id: spout.id,
    name: featureName(spout.feature),
    what: 'downspout',
    areaM2: roofShareM2(plan, spout),
    outlet: spout.outlet === 'storm-sewer' ? spout.shape.at : spout.outlet,
  }));
}
