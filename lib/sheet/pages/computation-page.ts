import { isDesigned, type BasinDesign } from '../../basin/design/design-result';
import { hoursText } from '../../basin/design/judge-drain-down';
import { curveNumberText, surfaceName } from '../../drainage/answer/run-off-words';
import { usualKind } from '../../drainage/height-error/error-defaults';
import { verdictWords } from '../../setback/judge/finding-words';
import type { Source } from '../../source';
import {
  formatArea,
  formatLength,
  formatRain,
  formatSpeed,
  formatVolume,
} from '../../units/format';
import { formatRate } from '../../units/rate';
import { mmPerHOfMPerS } from '../../units/units';
import type { Verdict } from '../../verdict';
import { letters } from '../drawing/board';
import type { SheetFacts } from '../facts/sheet-facts';
import { stormWords } from '../facts/title-cells';
import { flowLeaves, type Block } from './flow';
import type { Leaf, Making } from './leaf';
import { verdictLook } from './site-notes';
import { SourceList } from './source-list';
import type { Cell, Table } from './table';

const small = { ...letters.body, pt: 7.4 };

/** What went in, how it was worked out, what came out, what was taken for granted and how far it can be trusted. */
export function computationPages(making: Making): Leaf[] {
  const { facts } = making;
  const sources = new SourceList();
  const basins = (facts.design?.basins ?? []).filter(isDesigned);
  const missing = [
    ...(facts.survey === null
      ? ['Without elevation neither water nor gardens could be worked out.']
      : []),
    ...(facts.design?.basins ?? []).flatMap((each) =>
      isDesigned(each) ? [] : [`${each.name}: ${each.not_dug}`],
    ),
  ];
  const main: Block[] = [
    { kind: 'heading', text: 'What went in' },
    { kind: 'table', table: inputTable(facts, sources) },
    ...runOffBlocks(facts),
    ...basins.flatMap((basin) => basinBlocks(facts, basin, sources)),
  ];
  const side: Block[] = [
    { kind: 'heading', text: 'How it was worked out' },
    { kind: 'items', items: methods(facts), look: small },
    { kind: 'heading', text: 'How far it can be trusted' },
    { kind: 'items', items: limits(facts), look: small },
    ...sources.blocks(),
  ];
  return flowLeaves(
    making,
    { name: 'computation', title: 'Computation', missing },
    { main, side, columns: 2 },
  );
}

/** A table of what, value and source. */
function listed(rows: readonly (readonly Cell[])[]): Table {
  return {
    columns: [
      { head: 'what', width: 34, look: small },
      { head: 'value', width: 60, look: letters.figure },
      { head: 'source', width: 15, look: letters.label },
    ],
    rows,
    rowMm: 4.5,
  };
}

function inputTable(facts: SheetFacts, sources: SourceList): Table {
  const { plan, survey, units, ruleSet, design } = facts;
  const { lotfall } = plan.plan;
  const { storm, soil, elevation } = lotfall;
  const rows: Cell[][] = [['plan', facts.title, '']];
  if (survey !== null) {
    const { source, systemName, sourceCellM, resampled } = survey.elevation;
    const error = elevation?.rmse_m ?? usualKind(sourceCellM).rmseM;
    rows.push(
      ['elevation', source, ''],
      [
        '  checksum, length',
        elevation?.crc32 === undefined
          ? 'not in the plan'
          : `crc32 ${elevation.crc32}, ${elevation.size_bytes ?? '–'} bytes`,
        '',
      ],
      [
        '  system and cells',
        `${systemName}, ${formatLength(sourceCellM, units)}${resampled ? ', interpolated' : ''}`,
        '',
      ],
      [
        '  vertical error (RMSE)',
        `± ${formatLength(error, units)}, ${elevation?.rmse_m === undefined ? 'taken for such data' : 'as stated'}`,
        '',
      ],
    );
  }
  rows.push(
    ['storm', stormWords(facts), ''],
    ['  spread over time', (storm?.pattern ?? 'the usual pattern').replaceAll('-', ' '), ''],
    ['  ground before', storm?.antecedent ?? 'average', ''],
    [
      'soil',
      [soil?.group === undefined ? null : `group ${soil.group}`, soil?.texture]
        .filter(Boolean)
        .join(', ') || 'not given',
      '',
    ],
  );
  if (design !== null) {
    const { rate_mm_per_h: rate, factor, source } = design.soil;
    rows.push([
      '  takes in, for design',
      rate === null
        ? 'not known'
        : `${formatRate(rate / mmPerHOfMPerS, units)}, measured over ${factor} for safety`,
      sources.ref(source),
    ]);
  }
  rows.push(['rules', `${ruleSet.title} (${ruleSet.id})`, '']);
  return listed(rows);
}

/** Run-off of the own lot, surface by surface. */
function runOffBlocks({ water, units }: SheetFacts): Block[] {
  const runOff = water?.after.result.run_off;
  if (runOff === undefined || runOff === null) return [];
  return [
    { kind: 'heading', text: 'Run-off of the lot' },
    {
      kind: 'table',
      table: {
        columns: [
          { head: 'surface', width: 46, look: small },
          { head: 'area', width: 20, align: 'end' },
          { head: 'curve number', width: 17, align: 'end' },
          { head: 'depth', width: 15, align: 'end' },
          { head: 'volume', width: 17, align: 'end', look: letters.figureBold },
        ],
        rows: runOff.surfaces.map((row) => [
          surfaceName(row),
          formatArea(row.area_m2, units),
          row.curve_number === null ? '–' : curveNumberText(row.curve_number),
          formatRain(row.run_off_mm, units),
          formatVolume(row.run_off_m3, units),
        ]),
        rowMm: 4.4,
      },
    },
  ];
}

function basinBlocks(facts: SheetFacts, basin: BasinDesign, sources: SourceList): Block[] {
  return [
    { kind: 'heading', text: `${basin.name}: form and water` },
    { kind: 'table', table: listed(formRows(facts, basin, sources)) },
    { kind: 'heading', text: `${basin.name}: verdicts` },
    { kind: 'table', table: verdictTable(facts, basin, sources) },
    { kind: 'heading', text: `${basin.name}: size` },
    { kind: 'table', table: listed(sizeRows(facts, basin, sources)) },
  ];
}

function formRows({ units }: SheetFacts, each: BasinDesign, sources: SourceList): Cell[][] {
  const { basin, catchment, storm } = each;
  const volume = (m3: number): string => formatVolume(m3, units, storm.inflow_m3);
  const between = storm.inflow_between_m3;
  return [
    ['inside the rim', formatArea(basin.area_m2, units), ''],
    [
      'depth of ponding, of the dig below',
      `${formatLength(basin.ponding_depth_m, units)}, ${formatLength(basin.dig_depth_m, units)}`,
      '',
    ],
    [
      'holds in the bowl, in the layers',
      `${formatVolume(basin.storage_m3, units)}, ${formatVolume(basin.layer_storage_m3, units)}`,
      '',
    ],
    [
      'rim over the sill',
      `${formatLength(basin.freeboard_m, units)}; asked ${basin.freeboard_asked.published}`,
      sources.ref(basin.freeboard_asked.source),
    ],
    [
      'drains to it',
      `${catchment.cut_by_edge ? 'at least ' : ''}${formatArea(catchment.area_m2, units)} of ground and roofs`,
      '',
    ],
    [
      'water on its way',
      `${hoursText(catchment.mean_travel_min / 60)} in the mean, ${hoursText(catchment.longest_travel_min / 60)} at most`,
      sources.ref(catchment.travel_source),
    ],
    [
      'comes in',
      `${volume(storm.inflow_m3)}${between === null ? '' : `; by two rules of spreading ${between.map(volume).join(' to ')}`}`,
      '',
    ],
    [
      '  from ground, roofs, rain on it',
      [storm.from_ground_m3, storm.from_roofs_m3, storm.on_itself_m3].map(volume).join(', '),
      '',
    ],
    [
      'kept, let out',
      `${volume(storm.captured_m3)} (${Math.round(100 * storm.captured_fraction)} %), ${volume(storm.overflow_m3)}`,
      '',
    ],
    [
      'deepest',
      `${formatLength(storm.peak_depth_m, units)} after ${hoursText(storm.peak_at_h)}`,
      '',
    ],
    [
      'balance',
      `off by ${formatVolume(Math.abs(storm.error_m3), units)}; half the time step moves the depth by ${formatLength(Math.abs(storm.half_step.peak_depth_m), units, 0.0001)}`,
      '',
    ],
  ];
}

function verdictTable({ units }: SheetFacts, each: BasinDesign, sources: SourceList): Table {
  const { drain_down: drain, overflow, basin } = each;
  const { notch, inlet, verdict } = overflow;
  const speed = (mPerS: number): string => formatSpeed(mPerS, units);
  const row = (name: string, result: Verdict, why: string, source: Source | null): Cell[] => [
    name,
    { text: verdictWords[result], look: verdictLook(result) },
    why,
    sources.ref(source),
  ];
  return {
    columns: [
      { head: '', width: 17, look: small },
      { head: 'result', width: 13 },
      { head: 'why', width: 68, look: small },
      { head: 'source', width: 12, look: letters.label },
    ],
    rows: [
      row('drains in time', drain.result, drain.why, drain.source),
      row('overflow', verdict.result, verdict.why, null),
      row(
        'notch',
        notch.result,
        `${notch.why} Made for ${formatRain(notch.rain_mm, units)}.`,
        notch.source,
      ),
      row(
        '  erosion',
        notch.erosion,
        `${speed(notch.sill_velocity_m_per_s)} on the sill, ${speed(notch.berm_velocity_m_per_s)} down the berm. ${notch.erosion_why}`,
        overflow.grass_limit.source,
      ),
      row('inlet', inlet.result, inlet.why, inlet.source),
      row(
        'depth by slope',
        basin.ponding_by_slope.result,
        basin.ponding_by_slope.why,
        basin.ponding_by_slope.source,
      ),
      ...basin.separations.map(({ below, result, why, rules }) =>
        row(
          `to ${below === 'water' ? 'high water' : 'rock'}`,
          result,
          why,
          rules.at(0)?.source ?? null,
        ),
      ),
    ],
    rowMm: 4.5,
  };
}

function sizeRows({ units }: SheetFacts, { sizing }: BasinDesign, sources: SourceList): Cell[][] {
  const { by_factor: factor, by_storm: storm } = sizing;
  const share = `${Math.round(100 * sizing.wanted_fraction)} % of the storm`;
  return [
    ...(factor === null
      ? []
      : [
          [
            `by factors, ${factor.soil} soil`,
            formatArea(factor.area_m2, units),
            [...new Set(factor.factors.map((each) => sources.ref(each.source)))].join(' '),
          ],
        ]),
    [
      `for ${share}, same depth`,
      storm.area_m2 === null ? 'not to be had' : formatArea(storm.area_m2, units),
      '',
    ],
    [
      `for ${share}, same area`,
      storm.ponding_depth_m === null
        ? 'not to be had'
        : `${formatLength(storm.ponding_depth_m, units)} of ponding`,
      '',
    ],
    [
      'largest storm without overflow',
      storm.largest_held_mm === null ? 'not known' : formatRain(storm.largest_held_mm, units),
      '',
    ],
    ['the two ways', sizing.why, ''],
  ];
}

function methods({ survey, water, design }: SheetFacts): string[] {
  return [
    ...(survey === null
      ? []
      : [
          'Ground: heights as read, with buildings raised, walls and kerbs set up and gardens cut in; cells are not moved.',
          'Water takes every way down from a cell in proportion to slope; low spots fill, run together and spill; what roofs and pipes carry is led where they empty.',
        ]),
    ...(water === null
      ? []
      : [
          'Run-off by curve numbers, surface by surface and not averaged; roofs and paving by themselves.',
          'The ledger is a static account of the storm: what stands when it is over, what crossed the lot line, what gardens took in by then.',
        ]),
    ...(design === null
      ? []
      : [
          'Gardens are filled and drained in steps of time, implicitly; water in the bowl, layers and soil below is booked to the last litre.',
          'The notch is a broad crest met by its own, rarer storm when the garden is full; the overflow is followed over ground and through pipes.',
        ]),
    'Distances are level and exact, from the rim to the outline drawn; what is not known is never taken as met.',
  ];
}

function limits({ survey, notes, water }: SheetFacts): string[] {
  const doubtful = (water?.after.result.low_spots ?? []).filter(({ doubtful: may }) => may).length;
  return [
    'A design storm is not last night’s rain: other storms give other volumes.',
    ...(survey === null
      ? []
      : [
          'Heights err together over some metres: flow paths on gentle ground may lie elsewhere, and shallow low spots may be error.',
        ]),
    ...(doubtful > 0
      ? [`${doubtful} low spot${doubtful === 1 ? ' is' : 's are'} no deeper than that error.`]
      : []),
    'Water below the ground is left out, but for what soaks into it.',
    ...(notes.length > 0
      ? ['What was taken for granted in this plan stands with the cautions.']
      : []),
    'Estimates for planning: no survey and no engineered design. Local code governs.',
  ];
}
