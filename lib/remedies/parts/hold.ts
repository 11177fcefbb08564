import type { XY } from '../../frame/frame';
import { areaM2, centroid, contains, type Ring } from '../../frame/shapes';
import { featureName } from '../../plan/feature-name';
import type { LocalFeature } from '../../plan/local-plan';
import type { PlanFeature } from '../../plan/schema';
import { basinDefaults } from '../../ground/ground';
import type { Part } from '../part';
import { changed, type RemedySite } from '../site';
import { outletsTo } from './move-outlets';

/** How many times as wide and long a basin is made. Our choice, no source. */
const timesWider: readonly number[] = [1.15, 1.25, 1.4];
/** A basin is made so much deeper, metres. Our choice, no source. */
const deeperM = 0.08;
/** A usual barrel: 55 US gallons. Common practice, no source. */
const barrelM3 = 0.208;

/** Each own basin wider, and deeper: holds back what remedies at walls send on. */
export function largerBasins(site: RemedySite): Part[] {
  return site.plan.of.basin.flatMap((basin) => [
    ...timesWider.flatMap((times) => widened(site, basin, times)),
    ...deepened(basin),
  ]);
}

function widened(site: RemedySite, basin: LocalFeature<'basin'>, times: number): Part[] {
  const ring = basin.shape.rings[0];
  const middle = centroid([ring]);
  const grown = (at: XY): XY => [
    middle[0] + times * (at[0] - middle[0]),
    middle[1] + times * (at[1] - middle[1]),
  ];
  const wider = ring.map(grown);
  if (!isOnOwnLot(site, wider)) return [];
  const corners = site.lngLat(wider);
  const overflow = basin.overflow === undefined ? null : site.frame.toLngLat(grown(basin.overflow));
  const feature = {
    ...changed(basin.feature, overflow === null ? {} : { overflow }),
    geometry: { ...basin.feature.geometry, coordinates: [[...corners, corners[0]]] },
  } as PlanFeature;
  const areas = { from_m2: areaM2([ring]), to_m2: areaM2([wider]) };
  return [holdPart(`wider-${basin.id}-${Math.round(100 * times)}`, basin, feature, areas)];
}

function deepened(basin: LocalFeature<'basin'>): Part[] {
  const { ponding_depth_m = basinDefaults.pondingDepthM } = basin.feature.properties;
  const feature = changed(basin.feature, {
    ponding_depth_m: Math.round((ponding_depth_m + deeperM) * 1000) / 1000,
  });
  const depths = { from_depth_m: ponding_depth_m, to_depth_m: ponding_depth_m + deeperM };
  return [holdPart(`deeper-${basin.id}`, basin, feature, depths)];
}

/** Barrels at the downspouts whose water comes to a water at a wall. */
export function barrels(site: RemedySite, hollow: number): Part[] {
  const spouts = outletsTo(site, hollow).flatMap(({ feature }) =>
    feature.kind === 'downspout' && feature.feature.properties.barrel_m3 === undefined
      ? [feature]
      : [],
  );
  if (spouts.length === 0) return [];
  return [
    {
      ...holdPart('barrels', spouts[0], changed(spouts[0].feature, { barrel_m3: barrelM3 }), {
        count: spouts.length,
        volume_m3: barrelM3,
      }),
      hollow: site.hollows[hollow].key,
      puts: spouts.map(({ feature }) => changed(feature, { barrel_m3: barrelM3 })),
      about: null,
    },
  ];
}

function holdPart(
  key: string,
  { id, feature }: LocalFeature<'basin' | 'downspout'>,
  put: PlanFeature,
  figures: Readonly<Record<string, number>>,
): Part {
  return {
    key,
    verb: 'hold',
    hollow: null,
    endsIn: null,
    puts: [put],
    deletes: [],
    route: [],
    lengthM: 0,
    deepestM: 0,
    trenchM3: 0,
    rules: [],
    figures: { ...figures, name: featureName(feature) },
    about: id,
  };
}

function isOnOwnLot({ plan }: RemedySite, ring: Ring): boolean {
  const own = plan.of.lot.filter(({ feature }) => feature.properties.own);
  return ring.every((at) => own.some(({ shape }) => contains(shape.rings, at)));
}
