import { stormOnGround } from '../../lib/drainage/storm-on-ground';
import type { Plan } from '../../lib/plan/schema';
import { findSites } from '../../lib/siting/find-sites';
import type { SitingResult } from '../../lib/siting/siting-input';
import { defaultRainMm } from '../../lib/storm/default-rain';
import type { Frame } from '../../lib/frame/frame';
import { formatArea, formatLength, formatVolume } from '../../lib/units/format';
import type { UnitSystem } from '../../lib/units/units';
import type { Command } from './command';
import { elevationHelp, elevationOptions, planOf, withRain } from './inputs';
import { dayOf } from './setbacks';
import { survey } from './survey';
import { table } from './table';

/** `lotfall sites`: ranked places for a basin that keep every binding rule. */
export const sites: Command = {
  name: 'sites',
  summary: 'ranked places for a basin, with what each catches and the parts of its score',
  help: `Usage: lotfall sites <plan.geojson> --elevation <dem.tif|https://…> [--rain 25mm]

${elevationHelp}
  --on <date>                          day on which locates must be current (ISO), else today
  --json                               the whole answer as JSON
  --out <file>                         .geojson for the outlines; .json or .txt

Looks on the ground without the basins that the plan already has. Places whose rules cannot all be judged are listed
and say so. Where nothing complies the answer names the rules that refuse most.`,
  options: { ...elevationOptions, on: { type: 'string' } },
  async run(call) {
    const { plan, file } = await planOf(call);
    const {
      elevation,
      plan: local,
      shape,
    } = await survey(call, withoutBasins(withRain(plan, call.option('rain'))), file);
    const storm = stormOnGround(shape, local, local.plan.lotfall.storm?.rain_mm ?? defaultRainMm);
    const found = await findSites(
      { elevation, plan: local, shape, storm, today: dayOf(call) },
      { onProgress: call.onProgress },
    );
    const json = document(found, local.frame);
    return {
      text: words(found, plan.lotfall.units ?? 'metric'),
      json,
      files: { '.geojson': `${JSON.stringify(outlines(found, local.frame), null, 2)}\n` },
    };
  },
};

function withoutBasins(plan: Plan): Plan {
  return {
    ...plan,
    features: plan.features.filter((feature) => feature.properties.kind !== 'basin'),
  };
}

/** The answer with places in longitude and latitude. */
function document(found: SitingResult, frame: Frame): unknown {
  return {
    ...found,
    sites: found.sites.map(({ rim, at, setbacks, ...site }) => ({
      ...site,
      at: frame.toLngLat(at),
      rim: [...rim, rim[0]].map((corner) => frame.toLngLat(corner)),
      setbacks: {
        ...setbacks,
        results: setbacks.results.map((row) => ({
          ...row,
          nearest: row.nearest?.map((corner) => frame.toLngLat(corner)) ?? null,
        })),
      },
    })),
  };
}

/** The outlines as features that a plan could take over as basins. */
function outlines(found: SitingResult, frame: Frame): unknown {
  return {
    type: 'FeatureCollection',
    features: found.sites.map((site) => ({
      type: 'Feature',
      id: `site-${site.rank}`,
      geometry: {
        type: 'Polygon',
        coordinates: [[...site.rim, site.rim[0]].map((corner) => frame.toLngLat(corner))],
      },
      properties: {
        kind: 'basin',
        rank: site.rank,
        score: site.score,
        ponding_depth_m: site.ponding_depth_m,
        area_m2: site.area_m2,
        catches_m2: site.catches_m2,
        captured_fraction: site.captured_fraction,
      },
    })),
  };
}

function words(found: SitingResult, units: UnitSystem): string {
  const parts: string[] = [];
  if (found.sites.length === 0) {
    parts.push('Nowhere on this lot.');
  } else {
    const rows = found.sites.map((site) => [
      String(site.rank),
      site.form,
      formatArea(site.area_m2, units),
      formatLength(site.ponding_depth_m, units),
      formatArea(site.catches_m2, units),
      formatVolume(site.captured_m3, units),
      `${Math.round(site.captured_fraction * 100)} %`,
      site.score.toFixed(2),
      site.setbacks.summary.check > 0 ? `${site.setbacks.summary.check} to check` : '',
    ]);
    parts.push(
      table(
        [
          ['rank', 'shape', 'area', 'ponding', 'catches', 'holds', 'of storm', 'score', 'rules'],
          ...rows,
        ],
        'rlrrrrrrl',
      ),
    );
  }
  parts.push(
    `Of ${formatArea(found.lot_m2, units)} of lot, ${formatArea(found.allowed_m2, units)} is open to a rim.`,
    table(
      [
        ['refused by', 'area', 'by it alone'],
        ...found.refused.map((row) => [
          row.title,
          formatArea(row.area_m2, units),
          formatArea(row.alone_m2, units),
        ]),
      ],
      'lrr',
    ),
  );
  if (found.notes.length > 0)
    parts.push(found.notes.map((note) => `Note: ${note.text}`).join('\n'));
  return parts.join('\n\n');
}
