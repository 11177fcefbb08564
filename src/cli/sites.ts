import { contributingShare } from '../../lib/drainage/contributing-share';
import type { ShapedGround } from '../../lib/drainage/shaped-ground';
import { stormOnGround } from '../../lib/drainage/storm-on-ground';
import type { Plan } from '../../lib/plan/schema';
import { defaultTexture, findSites } from '../../lib/siting/find-sites';
import type { ScoreParts } from '../../lib/siting/score';
import type { CandidateSite, SitingResult } from '../../lib/siting/siting-input';
import { defaultRainMm } from '../../lib/storm/default-rain';
import type { Frame } from '../../lib/frame/frame';
import { formatArea, formatLength, formatRain, formatVolume } from '../../lib/units/format';
import type { UnitSystem } from '../../lib/units/units';
import type { Command } from './command';
import { dayHelp, dayOf, dayOption } from './day';
import {
  elevationHelp,
  elevationOptions,
  planOf,
  rainHelp,
  rainNotes,
  rainOption,
  withRain,
} from './inputs';
import { noteLines, sentences } from './notes';
import { survey } from './survey';
import { table } from './table';

/** `lotfall sites`: ranked places for a basin that keep every binding rule. */
export const sites: Command = {
  name: 'sites',
  summary: 'ranked places for a basin, with what each catches and the parts of its score',
  help: `Usage: lotfall sites <plan.geojson> --elevation <file.tif|https://…> [--rain 25mm]

${elevationHelp}
${rainHelp}
${dayHelp}
  --json                                the whole answer as JSON
  --out <file>                          .geojson for the outlines; .json or .txt

Looks at the ground without the basins that the plan already has. A place where a rule cannot be judged yet is listed
and says so. Where nothing complies, the answer names the rules that rule out most.`,
  options: { ...elevationOptions, ...rainOption, ...dayOption },
  forms: ['.geojson'],
  async run(call) {
    const { plan, file, notes } = await planOf(call);
    const today = dayOf(call);
    const {
      elevation,
      plan: local,
      shape,
    } = await survey(call, withoutBasins(withRain(plan, call.option('rain'))), file);
    const rainMm = local.plan.lotfall.storm?.rain_mm ?? defaultRainMm;
    const storm = stormOnGround(shape, local, rainMm);
    const found = await findSites(
      { elevation, plan: local, shape, storm, today },
      { onProgress: call.onProgress },
    );
    const remarks = sentences(
      found.notes.filter(({ code }) => code !== 'cells-coarse').map((note) => note.text),
      notes,
      elevation.notes.map((note) => note.text),
      rainNotes(local.plan),
      plan.lotfall.soil?.texture === undefined
        ? [`The plan does not give the soil's texture: ${defaultTexture} is taken`]
        : [],
      storm.surfaces.notes,
      storm.roofs.notes,
      storm.notes,
      cutShort(shape),
    );
    const title = `${plan.lotfall.name ?? file}: places for a basin, ${formatRain(rainMm, plan.lotfall.units ?? 'metric')} of rain`;
    return {
      text: words(found, {
        title,
        units: plan.lotfall.units ?? 'metric',
        frame: local.frame,
        notes: remarks,
      }),
      json: document(found, local.frame, rainMm, remarks),
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

function cutShort({ ground, routing }: ShapedGround): string[] {
  const own = ground.lots.find((lot) => lot.own);
  if (own === undefined || !contributingShare(routing, own.cells).cutByEdge) return [];
  return [
    'Ground that drains to the lot reaches the edge of the elevation data: what a place catches may be more than listed',
  ];
}

/** The answer with places in longitude and latitude. */
function document(
  found: SitingResult,
  frame: Frame,
  rainMm: number,
  notes: readonly string[],
): unknown {
  return {
    rain_mm: rainMm,
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
    notes,
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
        captured_m3: site.captured_m3,
        captured_fraction: site.captured_fraction,
      },
    })),
  };
}

interface About {
  readonly title: string;
  readonly units: UnitSystem;
  readonly frame: Frame;
  readonly notes: readonly string[];
}

function words(found: SitingResult, { title, units, frame, notes }: About): string {
  const parts = [title];
  if (found.sites.length === 0) {
    parts.push('No place on this lot is proposed; the first note says why.');
  } else {
    parts.push(siteTable(found.sites, units, frame), partsTable(found.sites));
  }
  parts.push(...forbiddenWords(found, units));
  if (notes.length > 0) parts.push(noteLines(notes));
  return parts.join('\n\n');
}

function siteTable(found: readonly CandidateSite[], units: UnitSystem, frame: Frame): string {
  const mostM3 = Math.max(...found.map((site) => site.captured_m3));
  const rows = found.map((site) => [
    String(site.rank),
    frame
      .toLngLat(site.at)
      .map((degrees) => degrees.toFixed(6))
      .join(', '),
    site.form,
    formatArea(site.area_m2, units),
    formatLength(site.ponding_depth_m, units),
    formatArea(site.catches_m2, units),
    formatVolume(site.captured_m3, units, mostM3),
    `${Math.round(site.captured_fraction * 100)} %`,
    site.score.toFixed(2),
    site.setbacks.summary.check > 0
      ? `${site.setbacks.summary.check} cannot be judged`
      : 'all judged',
  ]);
  const head =
    'rank,longitude and latitude,shape,area,ponding,catches,holds,of run-off,score,rules';
  return table([head.split(','), ...rows], 'rllrrrrrrl');
}

const partNames: readonly (readonly [keyof ScoreParts, string])[] = [
  ['caught', 'caught'],
  ['margin', 'margin'],
  ['slope', 'slope'],
  ['digging', 'digging'],
  ['downspout', 'downspout'],
  ['dryness', 'dryness'],
  ['recommended', 'advice kept'],
];

function partsTable(found: readonly CandidateSite[]): string {
  const rows = found.map(({ rank, parts }) => [
    String(rank),
    ...partNames.map(([part]) => parts[part]?.toFixed(2) ?? '–'),
  ]);
  const lines = table([['rank', ...partNames.map(([, name]) => name)], ...rows], 'rrrrrrrr');
  return `Parts of the score, from 0 (worst) to 1\n${lines}`;
}

function forbiddenWords(found: SitingResult, units: UnitSystem): string[] {
  const rows = found.refused.filter((row) => row.area_m2 > 0);
  const binding = rows.filter((row) => row.binding === 'must');
  const advised = rows.filter((row) => row.binding !== 'must');
  const parts: string[] = [];
  // Nothing was looked at where the data do not allow it.
  if (found.refused.length > 0) {
    parts.push(
      `Of the lot's ${formatArea(found.lot_m2, units)}, binding rules leave ${formatArea(found.allowed_m2, units)} for the basin's rim.`,
    );
  }
  if (binding.length > 0) {
    parts.push(
      table(
        [
          ['ruled out by', 'area', 'only by it'],
          ...binding.map((row) => [
            row.title,
            formatArea(row.area_m2, units),
            formatArea(row.alone_m2, units),
          ]),
        ],
        'lrr',
      ),
    );
  }
  if (advised.length > 0) {
    parts.push(
      `Advised against: ${advised.map((row) => `${row.title} (${formatArea(row.area_m2, units)})`).join(', ')}.`,
    );
  }
  return parts;
}
