import { expectOf, InputError } from '../errors';
import { longRecordStepS } from './long-record';
import { refuseImpossibleRain } from './most-rain';
import { rainReadings } from './rain-readings';
import type { TableAnswers } from './table-question';
import { dayS, hourS } from '../units/units';

/** Events of less bring no run-off and are not counted: 0.10 in. Source: `michiganThreshold`. */
export const leastEventMm = 2.54;
/** Dry hours that part two events in an hourly record. Common practice, no source. */
export const partingDryH = 6;

/** The events of a long record of rain. */
export interface RainRecord {
  readonly name: string;
  /** Days, or hours and the like that were joined to events. */
  readonly isDaily: boolean;
  /** Depth of every event with any rain, in the order of time, millimetres. */
  readonly eventsMm: Float64Array;
  /** From the first reading to the last, years. */
  readonly years: number;
  /** Share of the steps in that time without a reading. */
  readonly missingShare: number;
  readonly notes: readonly string[];
}

const daysAYear = 365.25;
/** Half a step of slack for clock changes and rough times. */
const slack = 0.5;

/**
 * Reads a long daily or hourly record and takes it apart into events: days as they are, or in a finer record stretches of
 * rain parted by `dryH` hours without any. Steps without a reading count as dry.
 *
 * @throws {InputError} those of `rainReadings`, `longRecordStepS` and `refuseImpossibleRain`; a `TableQuestion` for what
 *   the table leaves open.
 * Cost: linear in characters; a century of hours takes about a second.
 */
export function readRainRecord(
  text: string,
  name: string,
  answers: TableAnswers = {},
  dryH = partingDryH,
): RainRecord {
  const readings = rainReadings(text, name, answers);
  const { timesS } = readings;
  const stepS = longRecordStepS(readings, name);
  const spanS = timesS[timesS.length - 1] - timesS[0] + stepS;
  const isDaily = stepS > dayS * slack;
  const perStep = readings.isRate ? stepS / hourS : 1;
  const depthsMm = readings.depthsMm.map((depth) => depth * perStep);
  refuseImpossibleRain(depthsMm, timesS, stepS, (i) => `${name}, line ${readings.lines[i]}`);
  const events: number[] = [];
  let lastWetS = -Infinity;
  let known = 0;
  depthsMm.forEach((depth, i) => {
    if (Number.isNaN(depth)) return;
    known++;
    if (!(depth > 0)) return;
    const dryS = timesS[i] - lastWetS - stepS;
    if (isDaily || dryS > dryH * hourS - stepS * slack) events.push(0);
    events[events.length - 1] += depth;
    lastWetS = timesS[i];
  });
  const missingShare = Math.max(0, 1 - known / (spanS / stepS));
  const notes = [...readings.notes];
  if (missingShare > 0.001) {
    notes.push(
      `${(missingShare * 100).toFixed(1)} % of its ${isDaily ? 'days' : 'steps'} have no reading and count as dry.`,
    );
  }
  return {
    name,
    isDaily,
    eventsMm: Float64Array.from(events),
    years: spanS / dayS / daysAYear,
    missingShare,
    notes,
  };
}

/** A depth that a share of events does not exceed. */
export interface PercentileDepth {
  readonly depthMm: number;
  /** Events counted, and those left out for being too small. */
  readonly counted: number;
  readonly dropped: number;
}

/**
 * The depth that a share of the events that bring run-off does not exceed: the smallest of their depths of which that is
 * true. Events below `leastMm` are left out first.
 *
 * Source: `utahPercentile` for the definition, `michiganThreshold` for what is left out.
 *
 * @param share - from over 0 to 1.
 * @throws {InputError} `record-dry` when no event is left; `percentile-share` when the share is none.
 */
export function percentileDepth(
  { name, eventsMm }: Pick<RainRecord, 'name' | 'eventsMm'>,
  share: number,
  leastMm = leastEventMm,
): PercentileDepth {
  expectOf(share > 0 && share <= 1, {
    code: 'percentile-share',
    where: name,
    problem: `${share} is no share of its events`,
    remedy: 'give a number over 0 and up to 1',
  });
  // Tenths of an inch turned to millimetres and back must stay on their side of the threshold.
  const kept = eventsMm.filter((depth) => depth >= leastMm - 1e-9).sort();
  if (kept.length === 0) {
    throw new InputError({
      code: 'record-dry',
      where: name,
      problem: `no event of it reaches ${leastMm.toFixed(1)} mm`,
      remedy: 'open a longer record, or lower the threshold',
    });
  }
  const rank = Math.max(1, Math.ceil(share * kept.length - 1e-9));
  return {
    depthMm: kept[Math.min(kept.length, rank) - 1],
    counted: kept.length,
    dropped: eventsMm.length - kept.length,
  };
}
