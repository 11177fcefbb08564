import { hoursText } from '../basin/design/judge-drain-down';
import { codeFall, wallReachM } from '../drainage/answer/wall-fall';
import { sourceLine, type Source } from '../source';
import { formatArea, formatLength, formatSlope, formatVolume } from '../units/format';
import { formatRate } from '../units/rate';
import { mmPerHOfMPerS, type UnitSystem } from '../units/units';
import type { Verdict } from '../verdict';
import { sidingClear } from './earth-at-walls';
import type { HoleVerdict } from './hole-verdict';
import type { DrainFit } from './line-fall';
import type { NamedLine } from './lines-on-paper';
import type { BowlOnPaper, OnPaper } from './on-paper';
import { depthClasses, type SizeOnPaper } from './size-on-paper';
import type { SoakawayOnPaper } from './soakaways-on-paper';

const marks: Readonly<Record<Verdict, string>> = { pass: '✓', check: '?', fail: '✕' };
/** Levels and depths of a bed are told to a centimetre. */
const levelM = 0.01;

/** What the table of sizes is for, and what of it is drawn. */
export function sizeWords(size: SizeOnPaper, units: UnitSystem): string[] {
  const holds = size.holds_rain_m2;
  return [
    `For ${size.soil} soil${size.soil_assumed ? ' (assumed)' : ''}. ${
      holds === null
        ? ''
        : `To hold all of the rain, none soaking in meanwhile: ${depthClasses.map((depth) => formatArea(holds[depth], units)).join(', ')}.`
    }`,
    ...size.basins.map(
      ({ name, area_m2, wanted_m2, share }) =>
        `${name}: ${formatArea(area_m2, units)} of ${formatArea(wanted_m2, units)} wanted were all of it led there (${Math.round(100 * share)} %).`,
    ),
  ];
}

/** What earth at walls does there, and where that is asked for. */
export function earthWords(units: UnitSystem): string {
  return [
    `It rises ${formatLength(codeFall.ground * wallReachM, units)} at the wall (in place, loose earth is more) and stays ${formatLength(sidingClear.clearM, units)} below siding; where that is not left, the ground beyond is cut instead.`,
    sourcesText([codeFall.source, sidingClear.source]),
  ].join('\n');
}

/** How fast the soil takes water, and how deep it may stand. */
export function soilWords({ soil }: OnPaper, units: UnitSystem): string {
  if (soil.rate_mm_per_h === null) return `Soil: ${soil.notes.join(' ')}`;
  const depth =
    soil.depth_in_time_m === null || soil.depth_in_time_m === 0
      ? 'no depth of water would be gone in time'
      : `water up to ${formatLength(soil.depth_in_time_m, units)} deep is gone in time`;
  return `Soil takes ${formatRate(soil.rate_mm_per_h / mmPerHOfMPerS, units)} for design (from ${soil.from}): ${depth}.`;
}

/** What a test hole says: its fillings, the limits, how deep a garden may be. */
export function holeWords(hole: HoleVerdict, units: UnitSystem): string {
  const fillings = hole.fillings.map(({ water_depth_m, left_m, hours, empty_after_h }, i) => {
    const fell =
      left_m === 0
        ? `gone after ${hoursText(hours)}`
        : `${formatLength(left_m, units)} left after ${hoursText(hours)}${
            empty_after_h === null
              ? ', it did not fall'
              : `, at that pace empty after ${hoursText(empty_after_h)}`
          }`;
    return `  filling ${i + 1}: ${formatLength(water_depth_m, units)} of water, ${fell}`;
  });
  const limits = hole.limits.map(
    ({ hours, result, published, source }) =>
      `  ${marks[result]} within ${hoursText(hours)}: ${published}${source === null ? '' : ` (${sourceLine(source)})`}`,
  );
  const depth =
    hole.depth_by_handout_m === null
      ? ''
      : `\n  the garden may be ${formatLength(hole.depth_by_handout_m, units)} deep: what the level fell in a day, at most a foot (${sourceLine(hole.depth_source)})`;
  const drains = hole.drains === null ? '' : `, drains ${hole.drains}`;
  return `${hole.name}${drains}\n${[...fillings, ...limits].join('\n')}${depth}${hole.notes.length === 0 ? '' : `\n  ${hole.notes.join('\n  ')}`}`;
}

/** What a bowl holds and how long it stands. */
export function bowlWords(
  { name, holds_m3, ponding_depth_m, empty_after_h, limit_h, result }: BowlOnPaper,
  units: UnitSystem,
): string {
  const hours =
    empty_after_h === null
      ? 'how long it stands is not known'
      : `empty after ${hoursText(empty_after_h)}, limit ${hoursText(limit_h)}`;
  return `${marks[result]} ${name} holds ${formatVolume(holds_m3, units)} at ${formatLength(ponding_depth_m, units)}; ${hours}.`;
}

/** What a soakaway holds against what comes to it. */
export function soakawayWords(soakaway: SoakawayOnPaper, units: UnitSystem): string {
  const { name, holds_m3, soaks_m3, comes_m3, over_m3, half_empty_after_h, limit_h } = soakaway;
  const volume = (m3: number): string => formatVolume(m3, units, 1);
  const half =
    half_empty_after_h === null
      ? ''
      : ` Half empty after ${hoursText(half_empty_after_h)}, limit ${hoursText(limit_h)}.`;
  return [
    `${marks[soakaway.result]} ${name} holds ${volume(holds_m3)}, ${volume(soaks_m3)} soak in while the storm lasts; ${volume(comes_m3)} come to it${over_m3 > 0 ? `, ${volume(over_m3)} too much` : ''}.${half}`,
    `  ${soakaway.why}`,
    sourcesText([soakaway.source]),
  ].join('\n');
}

/** How one line falls, and what fits along it. */
export function lineWords(line: NamedLine, mmPerH: number, units: UnitSystem): string {
  const { fall_m, slope, doubt_m, lower_end, hump_m, levels } = line;
  const verdict = {
    last: `falls ${formatLength(fall_m, units, levelM)} (${formatSlope(slope)})`,
    first: `rises ${formatLength(-fall_m, units, levelM)}: its lower end is ${levels[0].name}`,
    none: 'has no lower end that the levels can tell',
  }[lower_end];
  return [
    `${line.name}: ${formatLength(line.length_m, units)}, ${verdict}, within ${formatLength(doubt_m, units, levelM)}${
      hump_m > doubt_m
        ? `; the ground between rises ${formatLength(hump_m, units, levelM)} above the straight line`
        : ''
    }.`,
    fitText('pipe', line.pipe, units),
    fitText('swale', line.swale, units),
    `  flow: all roofs and paving at ${mmPerH} mm in an hour (common practice, no source)`,
    sourcesText([...line.pipe.sources, ...line.swale.sources]),
  ].join('\n');
}

function fitText(what: 'pipe' | 'swale', fit: DrainFit, units: UnitSystem): string {
  const size =
    fit.size_m === null
      ? ''
      : `, ${formatLength(fit.size_m, units)} ${what === 'pipe' ? 'inside' : 'deep, bed 60 cm'}, carries ${(fit.carries_l_per_s ?? 0).toFixed(1)} l/s`;
  const short =
    fit.short_by_m === 0 ? '' : ` Short by ${formatLength(fit.short_by_m, units, levelM)}.`;
  return `  ${fit.fits ? '✓' : '✕'} ${what} at ${formatSlope(fit.slope)}${size}; ${formatLength(fit.starts_below_m, units, levelM)} below ground at the start, ${formatLength(Math.max(0, fit.ends_below_m), units, levelM)} at the end, at most ${formatLength(fit.deepest_m, units, levelM)}. ${fit.why}${short}`;
}

/** Each source once, a line each. */
export function sourcesText(sources: readonly Source[]): string {
  return [...new Set(sources.map((source) => `  source: ${sourceLine(source)}`))].join('\n');
}
