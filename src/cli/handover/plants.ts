import { basename } from 'node:path';
import { bearingVector } from '../../../lib/frame/bearing-vector';
import { centroid } from '../../../lib/frame/shapes';
import { InputError } from '../../../lib/errors';
import { monthNames } from '../../../lib/planting/months';
import { nativeReminder, type Plant } from '../../../lib/planting/plant';
import {
  plantingPlan,
  type PlantedGroup,
  type PlantingPlan,
} from '../../../lib/planting/planting-plan';
import { readPlantList } from '../../../lib/planting/read-plant-list';
import { starterLists } from '../../../lib/planting/starter-lists';
import { featureName } from '../../../lib/plan/feature-name';
import { csv } from '../../../lib/tables/write-csv';
import { formatLength } from '../../../lib/units/format';
import { bearingOfPoint } from '../../../lib/units/compass';
import { parseBearing } from '../../../lib/units/parse-angle';
import type { UnitSystem } from '../../../lib/units/units';
import type { Call, Command } from '../command';
import { gardensOf } from '../reading/gardens';
import { elevationHelp, elevationOptions } from '../reading/inputs';
import { noteLines, sentences } from '../notes';
import { readText } from '../reading/read-text';
import { table } from '../writing/table';
import { usage } from '../usage';

const regions = starterLists.map(({ id }) => id).join(', ');

/** `lotfall plants`: what to plant where. */
export const plants: Command = {
  name: 'plants',
  summary: 'plants by zone: counts, places that do not overlap, bloom, heights, care',
  help: `Usage: lotfall plants <plan.geojson> [--elevation <file.tif|https://…>] --region upper-midwest

${elevationHelp}
  --region <name>                       a few plants to begin with: ${regions}
  --list <file.csv>                     your own list: columns name, zone (deep, middle, edge), spread, and if you like
                                        height, bloom (Jun-Aug), sun, native to, common name
  --grid <square|triangular>            how they stand; when not given triangular
  --view <bearing>                      where the garden is seen from, as south or 180: low plants stand on that side
  --out <file>                          .csv (a row for each plant), .geojson, .json, .txt

${nativeReminder}`,
  options: {
    ...elevationOptions,
    region: { type: 'string' },
    list: { type: 'string' },
    grid: { type: 'string' },
    view: { type: 'string' },
  },
  forms: ['.csv', '.geojson'],
  async run(call) {
    const grid = call.option('grid') ?? 'triangular';
    if (grid !== 'square' && grid !== 'triangular') {
      throw usage(`plants stand on no grid '${grid}'`, 'use square or triangular');
    }
    const view = call.option('view');
    const bearingDeg = view === undefined ? null : (bearingOfPoint(view) ?? parseBearing(view));
    refuseBoth(call);
    const { plan, survey, gardens, notes } = await gardensOf(call);
    const system = plan.lotfall.units ?? 'metric';
    const list = await listOf(call, system);
    const { frame } = survey.plan;
    const plans = gardens.map(({ built }) => {
      const { rim } = built.finished.shape;
      const feature = survey.plan.of.basin.find(({ id }) => id === built.id)?.feature;
      return plantingPlan(
        {
          id: built.id,
          name: feature === undefined ? built.id : featureName(feature),
          zones: built.zones,
          frame,
        },
        list,
        {
          grid,
          ...(bearingDeg === null
            ? {}
            : { viewFrom: bearingVector(frame, centroid([rim]), bearingDeg) }),
        },
      );
    });
    return {
      text: [
        plan.lotfall.name ?? 'Plants',
        ...plans.map((each) => plantsText(each, system)),
        nativeReminder,
        noteLines(sentences(notes, ...plans.map((each) => each.notes))),
      ].join('\n\n'),
      json: { basins: plans, reminder: nativeReminder, notes },
      files: { '.csv': plantsTable(plans), '.geojson': plantsGeoJson(plans) },
    };
  },
};

function refuseBoth(call: Call): void {
  const [region, list] = [call.option('region'), call.option('list')];
  if (region !== undefined && list !== undefined) {
    throw usage('both a region and a list are given', 'keep one of --region and --list');
  }
  if (region === undefined && list === undefined) {
    throw usage(
      'no plants are named',
      `add --region (${regions}) to begin with, or --list and a CSV of your own`,
    );
  }
  if (region !== undefined && !starterLists.some(({ id }) => id === region)) {
    throw usage(`there is no list of plants for '${region}'`, `use ${regions}, or --list your own`);
  }
}

async function listOf(call: Call, system: UnitSystem): Promise<readonly Plant[]> {
  const region = starterLists.find(({ id }) => id === call.option('region'));
  if (region !== undefined) return region.plants;
  const path = call.option('list') ?? '';
  const name = basename(path);
  const list = readPlantList(await readText(path, 'the list of plants'), name, system);
  if (list.length > 0) return list;
  throw new InputError({
    code: 'plants-none',
    where: name,
    problem: 'there is no plant in it',
    remedy: 'add a row for each',
  });
}

function plantsText({ name, zones, count, bloom, care }: PlantingPlan, units: UnitSystem): string {
  const blocks = zones.map(
    ({ zone, area_m2, groups }) =>
      `${zone} zone, ${area_m2.toFixed(1)} m²\n${table(
        groups.map((group) => groupCells(group, units)),
        'lrrl',
      )}`,
  );
  const calendar = table([
    ['  in bloom', monthNames.join(' ')],
    ...bloom.rows.map(({ name: plant, months }) => [
      `  ${plant}`,
      months.map((blooms) => (blooms ? ' ● ' : ' · ')).join(' '),
    ]),
  ]);
  const gaps = bloom.gaps.length === 0 ? '' : `\n  nothing in ${bloom.gaps.join(', ')}`;
  return [
    `${name}: ${count} plants`,
    ...blocks,
    `${calendar}${gaps}`,
    `Care\n${table(care.map(({ when, what, source }) => [`  ${when}`, `${what} (${source})`]))}`,
  ].join('\n\n');
}

function groupCells(group: PlantedGroup, units: UnitSystem): string[] {
  const length = (metres: number): string => formatLength(metres, units);
  const [low, high] = group.height_m;
  return [
    `  ${group.name}${group.common === null ? '' : ` (${group.common})`}`,
    String(group.count),
    `by area ${group.by_area}`,
    [
      `${length(group.spread_m)} across`,
      high === 0 ? '' : `${length(low)} to ${length(high)} tall`,
      group.sun,
      group.native_to === '' ? '' : `native to ${group.native_to}`,
      group.sources === null
        ? ''
        : `height: ${group.sources.height}; spread: ${group.sources.spread}; bloom: ${group.sources.bloom}`,
    ]
      .filter((part) => part !== '')
      .join(', '),
  ];
}

function plantsTable(plans: readonly PlantingPlan[]): string {
  return csv([
    ['basin', 'zone', 'name', 'common_name', 'longitude', 'latitude', 'spread_m', 'check'],
    ...plans.flatMap(({ name, zones }) =>
      zones.flatMap(({ zone, groups }) =>
        groups.flatMap((group) =>
          group.at.map(([lng, lat]) => [
            name,
            zone,
            group.name,
            group.common ?? '',
            lng.toFixed(8),
            lat.toFixed(8),
            group.spread_m.toFixed(2),
            nativeReminder,
          ]),
        ),
      ),
    ),
  ]);
}

function plantsGeoJson(plans: readonly PlantingPlan[]): string {
  const features = plans.flatMap(({ name: basin, zones }) =>
    zones.flatMap(({ zone, groups }) =>
      groups.flatMap(({ name, common, spread_m, at }) =>
        at.map((coordinates) => ({
          type: 'Feature',
          properties: { basin, zone, name, common, spread_m },
          geometry: { type: 'Point', coordinates },
        })),
      ),
    ),
  );
  return `${JSON.stringify({ type: 'FeatureCollection', features, reminder: nativeReminder })}\n`;
}
