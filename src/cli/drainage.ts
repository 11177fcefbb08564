import { drainLot } from '../../lib/drainage/drain-lot';
import type { DrainageResult } from '../../lib/drainage/drainage-result';
import type { Ledger } from '../../lib/drainage/ledger';
import { stormOnGround } from '../../lib/drainage/storm-on-ground';
import { defaultRainMm } from '../../lib/storm/default-rain';
import { formatArea, formatLength, formatRain, formatVolume } from '../../lib/units/format';
import type { UnitSystem } from '../../lib/units/units';
import type { Command } from './command';
import { elevationHelp, elevationOptions, planOf, withRain } from './inputs';
import { survey, usualRmseM } from './survey';
import { table } from './table';

/** `lotfall drainage`: low spots, standing water, what drains where, and the water ledger of the own lot. */
export const drainage: Command = {
  name: 'drainage',
  summary: 'low spots, standing water, contributing areas and the water ledger',
  help: `Usage: lotfall drainage <plan.geojson> --elevation <dem.tif|https://…> [--rain 25mm]

${elevationHelp}
  --json                               the whole answer as JSON
  --out <file>                         .json or .txt

The state when the storm is over, without seepage from standing water. Ground is read outwards until all of it that
drains to the lot is there, or the data end; then the answer says so.`,
  options: elevationOptions,
  async run(call) {
    const { plan, file, notes } = await planOf(call);
    const {
      elevation,
      plan: local,
      shape,
    } = await survey(call, withRain(plan, call.option('rain')), file);
    const { lotfall } = local.plan;
    const storm = stormOnGround(shape, local, lotfall.storm?.rain_mm ?? defaultRainMm);
    const result = drainLot(shape, storm, local, {
      crs: elevation.systemName,
      rmseM: lotfall.elevation?.rmse_m ?? usualRmseM,
      notes: [...notes, ...elevation.notes.map((note) => note.text)],
    });
    return { text: words(result, lotfall.units ?? 'metric', lotfall.name ?? file), json: result };
  },
};

function words(result: DrainageResult, units: UnitSystem, title: string): string {
  const parts = [`${title}: ${formatRain(result.rain_mm, units)} of rain`];
  for (const building of result.buildings) {
    if (building.distance_m === null) continue;
    parts.push(
      `Water stands by ${building.name}: ${formatLength(building.depth_m, units)} deep, ${formatVolume(building.volume_m3, units)}, ` +
        `${building.distance_m < 0.05 ? 'against the wall' : `${formatLength(building.distance_m, units)} from the wall`}.`,
    );
  }
  parts.push(lowSpotTable(result, units));
  if (result.ledger !== null) parts.push(ledgerTable(result.ledger, units));
  parts.push(contributingTable(result, units));
  if (result.notes.length > 0) parts.push(result.notes.map((note) => `Note: ${note}`).join('\n'));
  return parts.join('\n\n');
}

function lowSpotTable(result: DrainageResult, units: UnitSystem): string {
  if (result.low_spots.length === 0) return 'No low spots worth listing.';
  const rows = result.low_spots.slice(0, 20).map((spot) => {
    const standing = result.standing.find((row) => row.id === spot.id);
    return [
      spot.id,
      spot.lot ?? '-',
      formatLength(spot.depth_m, units),
      formatArea(spot.area_m2, units),
      formatVolume(spot.volume_m3, units),
      standing === undefined ? '-' : formatVolume(standing.volume_m3, units),
      [standing?.spills === true ? 'spills' : '', spot.doubtful ? 'may not exist' : '']
        .filter(Boolean)
        .join(', '),
    ];
  });
  return table([['low spot', 'lot', 'depth', 'area', 'holds', 'stands', ''], ...rows], 'llrrrrl');
}

function ledgerTable(ledger: Ledger, units: UnitSystem): string {
  const write = (volume: number): string => formatVolume(volume, units);
  return table(
    [
      ['Comes in', ''],
      ['  rain on the lot', write(ledger.rain_m3)],
      ...ledger.run_on_from.map((share) => [`  run-on from ${share.name}`, write(share.volume_m3)]),
      ['Ends up', ''],
      ['  soaked in', write(ledger.soaked_m3)],
      ['  stands in low spots', write(ledger.standing_m3)],
      ['  in basins', write(ledger.basin_m3)],
      ['  storm sewer', write(ledger.sewer_m3)],
      ...ledger.passed_on_to.map((share) => [
        `  passed on to ${share.name}`,
        write(share.volume_m3),
      ]),
    ],
    'lr',
  );
}

function contributingTable(result: DrainageResult, units: UnitSystem): string {
  const rows = result.contributing.map((row) => [
    row.feature,
    `${row.cut_by_edge ? 'at least ' : ''}${formatArea(row.area_m2, units)}`,
    formatArea(row.storm_area_m2, units),
    row.by_source
      .slice(0, 3)
      .map(({ source, area_m2 }) => `${source} ${formatArea(area_m2, units)}`)
      .join(', '),
  ]);
  return table([['drains to', 'area', 'this storm', 'most from'], ...rows], 'lrrl');
}
