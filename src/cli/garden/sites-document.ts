import type { Frame, LngLat, XY } from '../../../lib/frame/frame';
import type { SetbackFindings } from '../../../lib/setback/judge/setback-result';
import type { PlaceAnswer } from '../../../lib/siting/answer/ask-place';
import type { CandidateSite, SitingResult } from '../../../lib/siting/sizing/siting-result';
import type { LedRoof } from '../../../lib/siting/leading/led-roof';

/** The answer with places in longitude and latitude; candidates that are not shown are left out. */
export function sitesDocument(
  found: SitingResult,
  asked: PlaceAnswer | null,
  frame: Frame,
): Record<string, unknown> {
  const { candidates, sites, joint, ways_out, ...rest } = found;
  return {
    ...rest,
    candidates: candidates.length,
    sites: sites.map((site) => siteDocument(site, frame)),
    joint:
      joint === null
        ? null
        : { ...joint, basins: joint.basins.map((basin) => siteDocument(basin, frame)) },
    ways_out: ways_out.map((way) => ({
      ...way,
      rims: way.rims.map((rim) => closedRing(rim, frame)),
    })),
    ...(asked === null ? {} : { asked: askedDocument(asked, frame) }),
  };
}

function askedDocument({ at, here, nearest, ...rest }: PlaceAnswer, frame: Frame): unknown {
  return {
    ...rest,
    at: frame.toLngLat(at),
    forbidding: rest.forbidding.map(({ row, shortByM }) => ({
      rule: row.rule,
      title: row.title,
      binding: row.binding,
      feature: row.feature,
      feature_name: row.feature_name,
      required_m: row.required_m,
      measured_m: row.measured_m,
      short_by_m: shortByM,
      why: row.why,
      source: row.source,
    })),
    here: here === null ? null : siteDocument(here, frame),
    nearest:
      nearest === null
        ? null
        : {
            ...nearest,
            at: frame.toLngLat(nearest.at),
            rim: closedRing(nearest.rim, frame),
          },
  };
}

type Drawn = Pick<CandidateSite, 'rim' | 'at' | 'led' | 'setbacks'>;

function siteDocument({ rim, at, led, setbacks, ...site }: Drawn, frame: Frame): unknown {
  return {
    ...site,
    at: frame.toLngLat(at),
    rim: closedRing(rim, frame),
    led: led.map((roof) => ({ ...roof, route: line(roof, frame) })),
    setbacks: findingsDocument(setbacks, frame),
  };
}

function findingsDocument(setbacks: SetbackFindings, frame: Frame): unknown {
  return {
    ...setbacks,
    results: setbacks.results.map((row) => ({
      ...row,
      nearest: row.nearest?.map((corner) => frame.toLngLat(corner)) ?? null,
    })),
  };
}

/** The outlines as features that a plan could take over as basins, with the pipes that lead roofs' water to them. */
export function sitesCollection(found: SitingResult, frame: Frame): unknown {
  const shown =
    found.joint === null
      ? found.sites.map((site) => ({ id: `site-${site.rank}`, site }))
      : found.joint.basins.map((site, i) => ({ id: `joint-${i + 1}`, site }));
  return {
    type: 'FeatureCollection',
    features: shown.flatMap(({ id, site }) => [
      {
        type: 'Feature',
        id,
        geometry: { type: 'Polygon', coordinates: [closedRing(site.rim, frame)] },
        properties: {
          kind: 'basin',
          rank: site.rank,
          score: site.score,
          ponding_depth_m: site.ponding_depth_m,
          area_m2: site.area_m2,
          catches_m2: site.catches_m2,
          captured_m3: site.captured_m3,
          captured_fraction: site.captured_fraction,
        },
      },
      ...site.led.map((roof) => ({
        type: 'Feature',
        id: `${id}-from-${roof.roof}`,
        geometry: { type: 'LineString', coordinates: line(roof, frame) },
        properties: {
          kind: 'drain-pipe',
          name: `Lead-in from ${roof.roof} to ${id}`,
          slope: roof.fall_ratio,
          length_m: roof.distance_m,
          fall_m: roof.fall_m,
          trench: roof.trench,
        },
      })),
    ]),
  };
}

function line({ route }: LedRoof, frame: Frame): LngLat[] {
  return route.map((at) => frame.toLngLat(at));
}

function closedRing(rim: readonly XY[], frame: Frame): LngLat[] {
  return [...rim, rim[0]].map((corner) => frame.toLngLat(corner));
}
