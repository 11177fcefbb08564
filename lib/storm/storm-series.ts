import { InputError } from '../errors';
import type { StormSettings } from '../plan/storm-settings';
import { formatRain } from '../units/format';
import { dayS, hourS, type UnitSystem } from '../units/units';
import { alternatingBlocks } from './alternating-block';
import { durationName, tableDepth } from './depth-table';
import { eventDuration, nestedDurationH, usualDurationH } from './event-duration';
import { curveOf, evenCurve, spread, type MassCurve } from './mass-curve';
import { refuseImpossibleDepth } from './most-rain';
import { nrcsCurve, shorterCurve, type NrcsPattern } from './nrcs-curves';
import { totalMm, type RainSeries } from './rain-series';

/** The rain of a storm over time, and what had to be assumed for it, in the user's words. */
export interface StormSeries {
  readonly series: RainSeries;
  readonly notes: readonly string[];
}

/** Steps of the tables of the 24-hour curves, in which other patterns are cut too when nothing else is asked, seconds. */
const usualStepS = 360;
/** A depth that differs by less from the one that it is set beside is the same, rounded. */
const sameShare = 0.01;

interface Shape {
  readonly curve: MassCurve;
  readonly notes: readonly string[];
}

/**
 * The rain of the plan's storm over time. Its sum is `rain_mm` to the last bit, whatever the pattern, which only spreads
 * it.
 *
 * @param options.stepS - length of the steps, 6 minutes when not given; a last step may be cut short by the storm's end.
 * @throws {InputError} `storm-no-table`, `storm-no-measured`, `depth-table-range` when the pattern needs what the plan
 *   does not have.
 */
export function stormSeries(
  storm: StormSettings,
  options: { readonly stepS?: number; readonly units?: UnitSystem } = {},
): StormSeries {
  const stepS = options.stepS ?? usualStepS;
  const { curve, notes } = shapeOf(storm, stepS, options.units ?? 'metric');
  return { series: spread(curve, storm.rain_mm, stepS), notes };
}

/**
 * Refuses a plan's storm of which more falls than ever did in its time; a depth of which no time is said may be a day's.
 *
 * @throws {InputError} `rain-too-much`.
 */
export function refuseImpossibleStorm(storm: StormSettings): void {
  const { hours, isKnown } = eventDuration({ storm });
  const inTimeS = isKnown ? Math.max(hours * hourS, usualStepS) : dayS;
  refuseImpossibleDepth(storm.rain_mm, inTimeS, 'the storm');
}

function shapeOf(storm: StormSettings, stepS: number, units: UnitSystem): Shape {
  switch (storm.pattern) {
    case 'nested':
      return nested(storm, stepS, units);
    case 'measured':
      return measured(storm, units);
    case 'uniform':
    case undefined:
      return uniform(storm);
    default:
      return nrcs(storm.pattern, storm.duration_h);
  }
}

function uniform({ duration_h }: StormSettings): Shape {
  return {
    curve: evenCurve((duration_h ?? usualDurationH) * hourS),
    notes:
      duration_h === undefined
        ? [
            `How long the storm lasts is not given: it is taken to rain evenly for ${usualDurationH} h.`,
          ]
        : [],
  };
}

function nrcs(pattern: NrcsPattern, hours: number | undefined): Shape {
  const curve = nrcsCurve(pattern);
  if (hours === undefined || hours * hourS === curve.durationS) return { curve, notes: [] };
  if (hours * hourS > curve.durationS) {
    return {
      curve,
      notes: [`The pattern is one of 24 h: the rain falls in the first 24 of the ${hours} h.`],
    };
  }
  return {
    // A storm of no length at all still has to fall in some time.
    curve: shorterCurve(curve, Math.max(hours * hourS, 1)),
    notes: [
      `The pattern is one of 24 h: of it the ${hours} h with most rain are taken, with the whole depth in them (common practice, no source).`,
    ],
  };
}

function nested(storm: StormSettings, stepS: number, units: UnitSystem): Shape {
  const { depth_table: table, return_period_y: periodY, rain_mm } = storm;
  if (table === undefined || periodY === undefined) {
    throw new InputError({
      code: 'storm-no-table',
      where: 'storm',
      problem: `nested blocks are asked for without ${table === undefined ? 'a depth table' : 'a return period'}`,
      remedy:
        table === undefined
          ? 'paste or open a depth-duration table, or choose another pattern'
          : 'choose a return period of the table',
    });
  }
  const durationMin = nestedDurationH(storm) * 60;
  const count = Math.max(1, Math.ceil((durationMin * 60) / stepS - 1e-6));
  // Asked first for the whole storm, so that one too long for the table is told its own length.
  tableDepth(table, Math.max(1e-6, durationMin), periodY);
  const notes = new Set<string>();
  const grown = Array.from({ length: count }, (_, i) => {
    const { depthMm, note } = tableDepth(
      table,
      Math.max(1e-6, Math.min(durationMin, ((i + 1) * stepS) / 60)),
      periodY,
    );
    if (note !== null) notes.add(note);
    return depthMm;
  });
  const ofTable = grown[count - 1];
  if (storm.duration_h === undefined) {
    notes.add(`The nested storm is taken to last ${durationName(durationMin)}.`);
  }
  if (Math.abs(ofTable - rain_mm) > sameShare * ofTable) {
    notes.add(
      `The depth table gives ${formatRain(ofTable, units)} in ${durationName(durationMin)} once in ${periodY} years; its blocks are scaled to the storm's ${formatRain(rain_mm, units)}.`,
    );
  }
  const depthsMm = Float64Array.from(alternatingBlocks(grown));
  return { curve: curveOf({ stepS, depthsMm }), notes: [...notes] };
}

function measured(
  { measured: rain, rain_mm, duration_h }: StormSettings,
  units: UnitSystem,
): Shape {
  if (rain === undefined) {
    throw new InputError({
      code: 'storm-no-measured',
      where: 'storm',
      problem: 'a measured pattern is asked for without a measured storm',
      remedy: 'open a CSV of one, or choose another pattern',
    });
  }
  const series: RainSeries = {
    stepS: rain.step_min * 60,
    depthsMm: Float64Array.from(rain.depths_mm),
  };
  const total = totalMm(series);
  const curve = curveOf(series);
  const notes: string[] = [];
  if (total === 0)
    notes.push('The measured storm is dry: the rain is spread evenly over its time.');
  else if (Math.abs(total - rain_mm) > sameShare * total) {
    notes.push(
      `The measured storm brought ${formatRain(total, units)}; it is scaled to ${formatRain(rain_mm, units)}.`,
    );
  }
  if (duration_h !== undefined && Math.abs(duration_h * hourS - curve.durationS) > 60) {
    notes.push(
      `The measured storm lasts ${durationName(curve.durationS / 60)}; the duration of ${duration_h} h is not used.`,
    );
  }
  return { curve, notes };
}
