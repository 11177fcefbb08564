import type { DrainageResult, LowSpotRow } from '../../../lib/drainage/answer/drainage-result';
import { soakedWords, worthNaming, type Ledger } from '../../../lib/drainage/answer/ledger';
import type { LotRunOff } from '../../../lib/drainage/answer/lot-run-off';
import {
  averagingText,
  cellAreasText,
  curveNumberText,
  surfaceName,
} from '../../../lib/drainage/answer/run-off-words';
import { lowSpotName } from '../../../lib/drainage/answer/listed-low-spots';
import { standingText, type StandingOnLot } from '../../../lib/drainage/answer/standing-on-lot';
import { isCertain, type CertainDrainage } from '../../../lib/drainage/certainty/with-certainty';
import type { LngLat } from '../../../lib/frame/frame';
import { contains } from '../../../lib/frame/shapes';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import { thawOf } from '../../../lib/storm/event-depth';
import { formatArea, formatLength, formatRain, formatVolume } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';
import { certaintyTable, sensitivityTable } from './certainty';
import { crossingsText } from './crossings-text';
import { noteLines } from '../notes';
import { table } from '../writing/table';
import { nameById } from '../../../lib/plan/feature-name';

/** Low spots in the table for people; the JSON has all. */
const mostRows = 20;
/** Sources of less than this share of an area are left out of the table for people. */
const leastShare = 0.005;
/**
 * What the command prints: what stands by buildings and on the lot, low spots, how sure that is, the ledger, what runs off
 * and what drains where.
 *
 * @param top - those of the result's notes that stand before it.
 */
export function drainageText(
  result: DrainageResult | CertainDrainage,
  plan: LocalPlan,
  title: string,
  top: readonly string[],
): string {
  const units = plan.plan.lotfall.units ?? 'metric';
  const parts = [
    `${title}: ${formatRain(result.rain_mm, units)} of ${thawOf(plan.plan.lotfall) === null ? 'rain' : 'melt and rain'}`,
    ...(top.length > 0 ? [noteLines(top)] : []),
  ];
  for (const building of result.buildings) {
    if (building.distance_m === null) continue;
    parts.push(
      `Water stands by ${building.name}: ${formatLength(building.depth_m, units)} deep, ${formatVolume(building.volume_m3, units)}, ` +
        `${building.distance_m < 0.05 ? 'against the wall' : `${formatLength(building.distance_m, units)} from the wall`}.`,
    );
  }
  if (result.standing_on_lot !== null)
    parts.push(standingLine(result, result.standing_on_lot, plan));
  parts.push(lowSpotTable(result, plan, units));
  if (isCertain(result)) {
    parts.push(certaintyTable(result, plan, units, mostRows));
    const { sensitivity } = result;
    if (sensitivity !== undefined)
      parts.push(sensitivityTable(sensitivity, result.low_spots, plan, units, mostRows));
  }
  if (result.ledger !== null) parts.push(ledgerTable(result, result.ledger, units));
  const crossings = crossingsText(result.crossings, units);
  if (crossings !== '') parts.push(crossings);
  if (result.run_off !== null) parts.push(runOffTable(result.run_off, units));
  parts.push(contributingTable(result, plan, units));
  const { cell_m, crs } = result.grid;
  parts.push(
    `State when the storm is over, before standing water soaks away but for what basins take in. Elevation: ${crs}, cells of ${formatLength(cell_m, units)}.`,
  );
  const others = result.notes.filter((note) => !top.includes(note));
  if (others.length > 0) parts.push(noteLines(others));
  return parts.join('\n\n');
}

/** What stands on the own lot, as its ledger has it. */
function standingLine(
  { rain_mm, ledger, contributing }: DrainageResult,
  standing: StandingOnLot,
  { plan, byId }: LocalPlan,
): string {
  const { units = 'metric' } = plan.lotfall;
  const lot = ledger?.lot ?? '';
  const event = thawOf(plan.lotfall) === null ? 'storm' : 'thaw';
  const cut = contributing.some((row) => row.feature === lot && row.cut_by_edge);
  const name = byId.get(lot)?.feature.properties.name ?? 'the lot';
  const text = standingText(standing, `a ${formatRain(rain_mm, units)} ${event}`, name, units);
  return `${cut && standing.volume_m3 > 0 ? `At least ${text}` : text}.`;
}

/** From how much rain on a low spot passes water on; a basin is always told, by its bowl alone. */
function spillsFrom(
  { spills_from_mm = null }: LowSpotRow,
  spills: boolean,
  isBasin: boolean,
  units: UnitSystem,
): string {
  if (!spills && !isBasin) return '';
  if (spills_from_mm === null) return spills ? 'spills' : '';
  const from = `spills from ${formatRain(spills_from_mm, units)} of rain`;
  return isBasin ? `its bowl alone ${from}` : from;
}

function lowSpotTable(result: DrainageResult, plan: LocalPlan, units: UnitSystem): string {
  if (result.low_spots.length === 0) return 'There are no low spots worth listing.';
  // A court between buildings has no brim that its depth and volume could be told from.
  const largest = Math.max(
    ...result.low_spots.flatMap((spot) => (spot.enclosed ? [] : [spot.volume_m3])),
    ...result.standing.map((row) => row.volume_m3),
  );
  const rows = result.low_spots.slice(0, mostRows).map((spot) => {
    const standing = result.standing.find((row) => row.id === spot.id);
    const basin = basinAt(spot.deepest, plan);
    return [
      String(spot.number),
      spot.lot === null ? '–' : nameOf(spot.lot, plan),
      spot.enclosed ? '–' : formatLength(spot.depth_m, units),
      formatArea(spot.area_m2, units),
      spot.enclosed ? '–' : formatVolume(spot.volume_m3, units, largest),
      standing === undefined ? 'dry' : formatVolume(standing.volume_m3, units, largest),
      [
        basin === null ? '' : `the basin ${nameOf(basin, plan)}${asBuilt(basin, result, units)}`,
        spillsFrom(spot, standing?.spills === true, basin !== null, units),
        spot.enclosed ? 'closed in by buildings' : '',
        spot.doubtful ? 'may be no more than error in the elevation' : '',
      ]
        .filter(Boolean)
        .join(', '),
    ];
  });
  const left = result.low_spots.length - rows.length;
  const lines = table(
    [['low spot', 'on', 'depth', 'area', 'can hold', 'holds now', ''], ...rows],
    'llrrrrl',
  );
  return left > 0 ? `${lines}\nand ${left} more; --json lists them all` : lines;
}

/** What a basin holds as it is built, beside what the cells of the elevation can hold of it. */
function asBuilt(id: string, { basins }: DrainageResult, units: UnitSystem): string {
  const row = basins.find((basin) => basin.id === id);
  if (row?.holds_m3 === undefined || row.holds_m3 === null) return '';
  const holds = formatVolume(row.holds_m3, units);
  return ` (as built ${formatArea(row.area_m2, units)} inside the rim, holds ${holds}; these are the cells of the elevation)`;
}

function ledgerTable(result: DrainageResult, ledger: Ledger, units: UnitSystem): string {
  const comesIn = ledger.rain_m3 + ledger.run_on_m3 + ledger.sump_m3;
  const write = (volume: number): string => formatVolume(volume, units, comesIn);
  const cut = result.contributing.some((row) => row.feature === ledger.lot && row.cut_by_edge);
  const least = cut ? 'at least ' : '';
  const endsUp =
    ledger.soaked_m3 +
    ledger.standing_m3 +
    ledger.basin_m3 +
    ledger.barrel_m3 +
    ledger.sewer_m3 +
    ledger.passed_on_m3;
  return table(
    [
      ['Comes in', `${least}${write(comesIn)}`],
      [
        result.run_off?.kind === 'thaw' ? '  melt and rain on the lot' : '  rain on the lot',
        write(ledger.rain_m3),
      ],
      ...(cut && ledger.run_on_from.length === 0
        ? [['  run-on', `${least}${write(0)}`]]
        : worthNaming(ledger.run_on_from).map((share) => [
            `  run-on from ${share.name}`,
            `${least}${write(share.volume_m3)}`,
          ])),
      ...(ledger.sump_m3 > 0 ? [['  from the sump', write(ledger.sump_m3)]] : []),
      ['Ends up', `${least}${write(endsUp)}`],
      [`  ${soakedWords}`, write(ledger.soaked_m3)],
      ['  stands in low spots', `${least}${write(ledger.standing_m3)}`],
      ['  held by basins', `${least}${write(ledger.basin_m3)}`],
      ...(ledger.barrel_m3 > 0 ? [['  in barrels and soakaways', write(ledger.barrel_m3)]] : []),
      ['  storm sewer', write(ledger.sewer_m3)],
      ...worthNaming(ledger.passed_on_to).map((share) => [
        `  passed on to ${share.name}`,
        `${least}${write(share.volume_m3)}`,
      ]),
    ],
    'lr',
  );
}

function runOffTable(runOff: LotRunOff, units: UnitSystem): string {
  const { surfaces, unconnected, averaged } = runOff;
  const write = (volume: number): string => formatVolume(volume, units, runOff.run_off_m3);
  const rows = surfaces.map((row) => [
    surfaceName(row),
    formatArea(row.area_m2, units),
    row.curve_number === null ? '–' : curveNumberText(row.curve_number),
    formatRain(row.run_off_mm, units),
    write(row.run_off_m3),
  ]);
  const whole = [
    'the lot',
    formatArea(runOff.area_m2, units),
    '',
    formatRain(runOff.run_off_mm, units),
    write(runOff.run_off_m3),
  ];
  const lines = table(
    [['runs off', 'area', 'curve number', 'depth', 'volume'], ...rows, whole],
    'lrrrr',
  );
  const credited = unconnected?.credited_m3 ?? 0;
  const average = averagingText(runOff, units);
  return [
    lines,
    cellAreasText,
    ...(credited > 0
      ? [`Unconnected paving is credited with ${write(credited)}: see the notes.`]
      : []),
    ...(average === null || averaged === null
      ? []
      : [
          `${average} (${averaged.source.title}, ${averaged.source.section ?? ''}, ${averaged.source.mark})`,
        ]),
  ].join('\n');
}

function contributingTable(result: DrainageResult, plan: LocalPlan, units: UnitSystem): string {
  const rows = result.contributing.map((row) => {
    const least = row.cut_by_edge ? 'at least ' : '';
    return [
      drainedName(row.feature, result, plan),
      `${least}${formatArea(row.area_m2, units)}`,
      `${least}${formatArea(row.storm_area_m2, units)}`,
      row.by_source
        .filter(({ area_m2 }) => area_m2 >= leastShare * row.area_m2)
        .slice(0, 3)
        .map(({ source, area_m2 }) => `${sourceName(source, plan)} ${formatArea(area_m2, units)}`)
        .join(', '),
    ];
  });
  const more = result.contributing.some((row) => row.storm_area_m2 > 1.01 * row.area_m2);
  return [
    table([['drains to', 'by the ground', 'in this storm', 'most from'], ...rows], 'lrrl'),
    ...(more
      ? ['In this storm also counts what drains bring, and what of a pond stays on a part of it.']
      : []),
  ].join('\n');
}

/** What water drains to: a feature of the plan, or a low spot by its number. */
export function drainedName(id: string, result: DrainageResult, plan: LocalPlan): string {
  const spot = result.low_spots.find((row) => row.id === id);
  return spot === undefined ? nameOf(id, plan) : lowSpotName(spot.number);
}

/** A feature by its name where it has one. */
function nameOf(id: string, plan: LocalPlan): string {
  return nameById(plan.plan.features, id);
}

/** Sources are lots by id, `roof` and its id, or words. */
function sourceName(source: string, plan: LocalPlan): string {
  const roof = /^roof (.+)$/.exec(source);
  if (roof === null) return nameOf(source, plan);
  const name = plan.byId.get(roof[1])?.feature.properties.name;
  return name === undefined ? source : `roof ${name}`;
}

/** The basin of the plan that a low spot is; null when it is none. */
function basinAt(place: LngLat, plan: LocalPlan): string | null {
  const at = plan.frame.toLocal(place);
  return plan.of.basin.find(({ shape }) => contains(shape.rings, at))?.id ?? null;
}
