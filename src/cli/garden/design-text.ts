import { hoursText } from '../../../lib/basin/design/judge-drain-down';
import {
  isDesigned,
  type BasinDesign,
  type DesignedSeries,
  type DesignedStorm,
  type DesignResult,
} from '../../../lib/basin/design/design-result';
import { shareText } from '../../../lib/basin/form/share-text';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import {
  formatArea,
  formatLength,
  formatRain,
  formatSpeed,
  formatVolume,
} from '../../../lib/units/format';
import { formatRate } from '../../../lib/units/rate';
import type { UnitSystem } from '../../../lib/units/units';
import { noteLines } from '../notes';
import { table } from '../writing/table';
import { hourS, mmPerHOfMPerS } from '../../../lib/units/units';
import { nameById } from '../../../lib/plan/feature-name';

/** Roofs of which less drains here are left out of the text; the JSON has all. */
const leastRoofM2 = 1;

interface About {
  readonly title: string;
  readonly units: UnitSystem;
  readonly plan: LocalPlan;
}

/** The basins of a plan for people. */
export function designText(result: DesignResult, { title, units, plan }: About): string {
  const parts: string[] = [];
  for (const basin of result.basins) {
    if (!isDesigned(basin)) {
      parts.push(`${title}: ${basin.name}\n${basin.not_dug}`);
      continue;
    }
    parts.push(
      `${title}: ${basin.name}, ${formatRain(basin.storm.rain_mm, units)} of ${basin.storm.kind === 'storm' ? 'rain' : 'melt and rain'}`,
      formTable(basin, units),
      stormTable(basin, units, plan),
      verdicts(basin, units),
      sizingLines(basin, units),
      ...remedyLines(basin),
      ...longRunTable(basin, units),
      quantityTable(basin, units),
      ...(basin.notes.length > 0 ? [noteLines(basin.notes)] : []),
    );
  }
  const { rate_mm_per_h, from, notes } = result.soil;
  parts.push(
    rate_mm_per_h === null
      ? 'Soil below: unknown.'
      : `Soil below: takes ${formatRate(rate_mm_per_h / mmPerHOfMPerS, units)} for design (${fromWords[from] ?? from}).`,
  );
  const remarks = [...notes, ...result.notes];
  if (remarks.length > 0) parts.push(noteLines(remarks));
  return parts.join('\n\n');
}

const fromWords: Readonly<Record<string, string>> = {
  typed: 'typed in',
  tests: 'from tests',
  texture: 'from a table by texture',
  group: 'the least of its hydrologic group',
};

function formTable({ basin }: BasinDesign, units: UnitSystem): string {
  const most = Math.max(basin.storage_m3, basin.layer_storage_m3);
  return table(
    [
      ['Area inside the rim', formatArea(basin.area_m2, units)],
      ['Ponding depth', formatLength(basin.ponding_depth_m, units)],
      ['Dig below the floor', formatLength(basin.dig_depth_m, units)],
      ['  deepest below the ground now', formatLength(basin.bottom_depth_m, units)],
      ['Holds in the bowl', formatVolume(basin.storage_m3, units, most)],
      ['  in the pores below', formatVolume(basin.layer_storage_m3, units, most)],
      ...basin.layers
        .toReversed()
        .map((layer) => [
          `  ${layer.name.toLowerCase()}`,
          `${formatLength(layer.thickness_m, units)} thick, ${formatVolume(layer.volume_m3, units)}`,
        ]),
    ],
    'll',
  );
}

function stormTable({ storm, catchment }: BasinDesign, units: UnitSystem, plan: LocalPlan): string {
  const write = (volume: number): string => formatVolume(volume, units, storm.inflow_m3);
  const least = catchment.cut_by_edge ? 'at least ' : '';
  const roofs = catchment.roofs
    .filter(({ area_m2 }) => area_m2 >= leastRoofM2)
    .map(({ id, area_m2 }) => `${nameById(plan.plan.features, id)} ${formatArea(area_m2, units)}`)
    .join(', ');
  const row = (label: string, volume: number): string[][] =>
    volume > 0 ? [[label, write(volume)]] : [];
  return table(
    [
      [
        'Drains here, itself apart',
        `${least}${formatArea(catchment.area_m2, units)}${roofs === '' ? '' : ` (${roofs})`}`,
      ],
      ['Comes in', `${least}${write(storm.inflow_m3)}`],
      ...(storm.inflow_between_m3 === null
        ? []
        : [
            [
              '  by two rules of how water spreads',
              storm.inflow_between_m3.map(write).join(' to '),
            ] as [string, string],
          ]),
      ...row('  from the ground', storm.from_ground_m3),
      ...row('  from roofs', storm.from_roofs_m3),
      ...row('  from drains and sumps', storm.from_drains_m3),
      ...row('  from another basin', storm.from_overflow_m3),
      ...row('  rain on it', storm.on_itself_m3),
      [
        '  late by',
        `${hoursText(catchment.mean_travel_min / 60)} in the mean from the ground, ${hoursText(catchment.longest_travel_min / 60)} at most (TR-55), by ${formatRain(catchment.rain_2y_mm, units)} once in two years (${twoYearWords[catchment.rain_2y_from]})`,
      ],
      ['Captured', `${write(storm.captured_m3)}, ${shareText(storm.captured_fraction)}`],
      ...row('  by the underdrain', storm.underdrain_m3),
      [
        'Overflows',
        `${write(storm.overflow_m3)}${
          storm.peak_overflow_m3_per_h > 0
            ? `, at the peak ${formatVolume(storm.peak_overflow_m3_per_h / 60, units)} a minute`
            : ''
        }`,
      ],
      ...row('Held back on the way', storm.held_in_barrels_m3 + storm.held_in_low_spots_m3),
      ['Deepest', `${formatLength(storm.peak_depth_m, units)} after ${hoursText(storm.peak_at_h)}`],
      ['Surface empty', afterWater(storm.drain_down_h, storm.kind)],
      ['Layers drained', afterWater(storm.layers_empty_h, storm.kind)],
      ['Balance', balanceText(storm, units)],
    ],
    'll',
  );
}

function afterWater(hours: number | null, kind: DesignedStorm['kind']): string {
  if (hours === null) return 'not known';
  const water = kind === 'thaw' ? 'thaw' : 'rain';
  return hours === 0 ? `when the ${water} is over` : `${hoursText(hours)} after the ${water}`;
}

/** How far the books are off, and what half the time step changes. */
function balanceText({ error_m3, inflow_m3, half_step }: DesignedStorm, units: UnitSystem): string {
  const parts = inflow_m3 > 0 ? Math.abs(error_m3) / inflow_m3 : 0;
  const changes = [
    `the depth by ${formatLength(Math.abs(half_step.peak_depth_m), units, 0.0001)}`,
    `the overflow by ${formatVolume(Math.abs(half_step.overflow_m3), units)}`,
    ...(half_step.drain_down_h === null
      ? []
      : [`the time to empty by ${Math.round(hourS * Math.abs(half_step.drain_down_h))} s`]),
  ];
  return `off by ${parts === 0 ? '0' : parts.toExponential(0)} of what comes in; steps of ${half_step.step_s} s instead of ${2 * half_step.step_s} s change ${changes.join(', ')}`;
}

const twoYearWords = {
  plan: 'as given',
  'depth-table': 'by the depth table',
  usual: 'a usual figure, as none is given',
} as const;

const marks = { pass: 'meets', check: 'check', fail: 'fails' } as const;

function verdicts({ drain_down, overflow, basin }: BasinDesign, units: UnitSystem): string {
  const { notch, inlet, grass_limit } = overflow;
  const speed = (mPerS: number): string => formatSpeed(mPerS, units);
  const madeFor = `Made for ${formatRain(notch.rain_mm, units)} (${
    notch.rain_from === 'plan'
      ? 'as asked'
      : notch.rain_from === 'event'
        ? 'the plan’s own, as no rarer one is known'
        : `once in ${notch.return_period_y} years`
  }) on a full basin.`;
  const limits = `grass bears ${speed(grass_limit.from_m_per_s)} to ${speed(grass_limit.to_m_per_s)}`;
  return table(
    [
      ['Drain-down', marks[drain_down.result], drain_down.why],
      ['Overflow', marks[overflow.verdict.result], overflow.verdict.why],
      ['Notch', marks[notch.result], `${notch.why} ${madeFor}`],
      [
        '  erosion',
        marks[notch.erosion],
        `${speed(notch.sill_velocity_m_per_s)} on the sill, ${speed(notch.berm_velocity_m_per_s)} down the berm; ${limits}. ${notch.erosion_why}`,
      ],
      [
        'Inlet',
        marks[inlet.result],
        `${speed(inlet.velocity_m_per_s)} down the side, spread over ${formatLength(inlet.width_m, units)}; ${limits}. ${inlet.why}`,
      ],
      ['Depth by slope', marks[basin.ponding_by_slope.result], basin.ponding_by_slope.why],
      ...basin.separations.map(({ below, result, why }) => [
        below === 'rock' ? 'Rock below' : 'High water',
        marks[result],
        why,
      ]),
    ],
    'lll',
  );
}

function sizingLines({ sizing, basin }: BasinDesign, units: UnitSystem): string {
  const wanted = shareText(sizing.wanted_fraction);
  const { by_factor, by_storm } = sizing;
  const rows: string[][] = [['It has', formatArea(basin.area_m2, units)]];
  if (by_factor !== null) {
    rows.push([
      `By published factors (${by_factor.soil} soil${by_factor.soil_assumed ? ', assumed' : ''})`,
      `${formatArea(by_factor.area_m2, units)}, which captures ${shareText(by_factor.captured_fraction)} of this storm`,
    ]);
  }
  rows.push(
    [
      `To capture ${wanted} of this storm`,
      by_storm.area_m2 === null
        ? 'no area looked at does'
        : `${formatArea(by_storm.area_m2, units)} at this depth`,
    ],
    [
      '  or',
      by_storm.ponding_depth_m === null
        ? 'no depth looked at on this area'
        : `${formatLength(by_storm.ponding_depth_m, units)} of ponding on this area`,
    ],
  );
  if (by_storm.largest_held_mm !== null) {
    rows.push(['Holds without overflow', `up to ${formatRain(by_storm.largest_held_mm, units)}`]);
  }
  return `${table(rows, 'll')}\n${sizing.why}`;
}

function remedyLines({ slow_soil }: BasinDesign): string[] {
  if (slow_soil.length === 0) return [];
  const rows = slow_soil.map(({ works, why }) => [works ? 'would do:' : 'would not:', why]);
  return [`To make it drain in time:\n${table(rows, 'll')}`];
}

function longRunTable({ long_run }: BasinDesign, units: UnitSystem): string[] {
  if (long_run === null) return [];
  const rows = [...long_run.years, long_run.all].map((each) => [
    each.year === null ? 'all' : String(each.year),
    formatRain(each.rain_mm, units),
    formatVolume(each.inflow_m3, units, long_run.all.inflow_m3),
    shareText(each.captured_fraction),
    `${each.overflows} of ${each.storms}`,
    hoursText(each.longest_wet_h),
  ]);
  return [
    `${table([['year', 'rain', 'comes in', 'captured', 'overflows in', 'longest wet'], ...rows], 'lrrrrr')}\n${noteLines(long_run.notes)}`.trimEnd(),
  ];
}

function quantityTable({ quantities, cost }: BasinDesign, units: UnitSystem): string {
  const rows = quantities.map(({ name, volume_m3, loose_m3, area_m2 }) => {
    const paid = cost.rows.find((each) => each.name === name);
    return [
      name,
      volume_m3 > 0 ? formatVolume(volume_m3, units) : '',
      loose_m3 === undefined || volume_m3 === 0 ? '' : formatVolume(loose_m3, units),
      area_m2 === undefined ? '' : formatArea(area_m2, units),
      paid === undefined ? '' : paid.cost.toFixed(2),
    ];
  });
  const total = cost.rows.length === 0 ? [] : [['total', '', '', '', cost.total.toFixed(2)]];
  return `${table([['quantity', 'in place', 'loose', 'area', 'cost'], ...rows, ...total], 'lrrrr')}\n${cost.note}`;
}

/** What happens over time as a table of comma-separated values. */
export function seriesTable(series: DesignedSeries): string {
  const names = [
    'time_h',
    'inflow_m3_per_h',
    'depth_m',
    'layers_m3',
    'soaked_m3_per_h',
    'underdrain_m3_per_h',
    'overflow_m3_per_h',
  ] as const;
  const lines = series.time_h.map((_, i) =>
    names.map((name) => Number(series[name][i].toPrecision(9))).join(','),
  );
  return `${[names.join(','), ...lines].join('\n')}\n`;
}
