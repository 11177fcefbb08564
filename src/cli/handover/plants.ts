import { plantingOfJob } from '../../../lib/handover/job/planting-of-job';
import { plantsOf } from '../../../lib/handover/job/plants-of-job';
import { monthNames } from '../../../lib/planting/months';
import { nativeReminder } from '../../../lib/planting/plant';
import type { PlantedGroup, PlantingPlan } from '../../../lib/planting/planting-plan';
import { starterLists } from '../../../lib/planting/starter-lists';
import { csv } from '../../../lib/tables/write-csv';
import { formatLength } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';
import type { Command } from '../command';
import { gardensOf } from '../reading/gardens';
import { elevationHelp, elevationOptions } from '../reading/inputs';
import { jobOf } from '../reading/job';
import { noteLines, sentences } from '../notes';
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
    const { plan, survey, gardens, notes } = await gardensOf(call);
    const job = await jobOf(call, plan);
    const system = plan.lotfall.units ?? 'metric';
    const list = plantsOf(job, system);
    if (list === null) {
      throw usage(
        'no plants are named',
        `add --region (${regions}) to begin with, or --list and a CSV of your own`,
      );
    }
    const plans = plantingOfJob(survey.plan, gardens, list, {
      grid: job.plant_grid ?? 'triangular',
      seenFromDeg: job.seen_from_deg ?? null,
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
