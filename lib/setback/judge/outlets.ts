import type { XY } from '../../frame/frame';
import { areaM2 } from '../../frame/shapes';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { outlineOf, pointDistance } from '../measure/outline';

/** A place where a pipe, a pump or a downspout lets water out on the ground. */
export interface Outlet {
  readonly feature: LocalFeature<
    'sump-outlet' | 'downspout' | 'drain-pipe' | 'yard-drain' | 'trench-drain'
  >;
  readonly at: XY;
  /** False for a downspout of which the plan does not say where its water comes out: it is taken at its own place. */
  readonly isSaid: boolean;
  /** Roof that drains to it, m2; null where that is not known. */
  readonly roofM2: number | null;
  /** What a pump puts out, m3 in an hour. */
  readonly pumpM3PerH: number | null;
  /** How wide the water is when it comes out, metres. */
  readonly widthM: number | null;
}

/** An outlet so near to what takes its water leads into it, metres. Our choice, no source. */
const intoM = 0.5;

/** Where water is let out on open ground; what ends in a sewer, a basin or a soakaway is not. */
export function outletsOf(plan: LocalPlan): Outlet[] {
  const { of } = plan;
  const takers = [...of.basin, ...of.soakaway].map(({ shape }) => outlineOf(shape));
  const isTaken = ([x, y]: XY): boolean =>
    takers.some((outline) => pointDistance(outline, x, y) <= intoM);
  return [
    ...of['sump-outlet'].map((feature): Outlet => ({
      feature,
      at: feature.shape.at,
      isSaid: true,
      roofM2: null,
      pumpM3PerH: feature.feature.properties.rate_m3_per_h ?? null,
      widthM: null,
    })),
    ...of.downspout.flatMap((feature): Outlet[] => {
      const { pipe, outlet } = feature.feature.properties;
      if (feature.outlet === 'storm-sewer' || (pipe !== undefined && plan.byId.has(pipe)))
        return [];
      return [
        {
          feature,
          at: feature.outlet,
          isSaid: outlet !== undefined,
          roofM2: roofShareM2(plan, feature),
          pumpM3PerH: null,
          widthM: null,
        },
      ];
    }),
    ...of['drain-pipe'].flatMap((feature): Outlet[] => {
      const { outlet, diameter_m, blocked } = feature.feature.properties;
      if (outlet === 'storm-sewer' || blocked === true) return [];
      const { points } = feature.shape;
      const spouts = of.downspout.filter((each) => each.feature.properties.pipe === feature.id);
      return [
        {
          feature,
          at: points[points.length - 1],
          isSaid: true,
          roofM2:
            spouts.length === 0
              ? null
              : spouts.reduce((sum, spout) => sum + roofShareM2(plan, spout), 0),
          pumpM3PerH: null,
          widthM: diameter_m ?? null,
        },
      ];
    }),
    ...[...of['yard-drain'], ...of['trench-drain']].flatMap((feature): Outlet[] => {
      const { pipe, blocked } = feature.feature.properties;
      const { outlet } = feature;
      if (pipe !== undefined || blocked === true) return [];
      if (outlet === undefined || outlet === 'storm-sewer') return [];
      return [{ feature, at: outlet, isSaid: true, roofM2: null, pumpM3PerH: null, widthM: null }];
    }),
  ].filter(({ at }) => !isTaken(at));
}

/** The part of its roof that a downspout has: as given, what is left in equal parts, m2. */
export function roofShareM2(plan: LocalPlan, spout: LocalFeature<'downspout'>): number {
  const roof = plan.byId.get(spout.feature.properties.roof);
  if (roof?.kind !== 'roof') return 0;
  const spouts = plan.of.downspout.filter((each) => each.feature.properties.roof === roof.id);
  const given = spouts.reduce((sum, each) => sum + (each.feature.properties.share ?? 0), 0);
  const open = spouts.filter((each) => each.feature.properties.share === undefined).length;
  const { share } = spout.feature.properties;
  const scale = open === 0 && given > 0 ? 1 / given : 1;
  const part = share === undefined ? Math.max(0, 1 - given) / open : share * scale;
  return areaM2(roof.shape.rings) * part;
}
