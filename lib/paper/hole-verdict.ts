import { drainLimits, usualDrainLimit } from '../basin/design/judge-drain-down';
import { featureName } from '../plan/feature-name';
import type { FeatureOf } from '../plan/schema';
import type { SoilSettings } from '../plan/soil-settings';
import { reduceTest, type WallCorrection } from '../soil/reduce-test';
import { holeTest } from '../soil/sources';
import { readingsOf } from '../soil/test-problems';
import type { Source } from '../source';
import { dayS, footM, hourMin, hourS, mmPerHOfMPerS } from '../units/units';
import type { Verdict } from '../verdict';

/** A hole filled once. */
export interface FillingRow {
  readonly water_depth_m: number;
  readonly hours: number;
  readonly left_m: number;
  /** Hours until it was empty, led on at the pace at which it fell where some was left; null where it did not fall. */
  readonly empty_after_h: number | null;
}

/** What a test hole says before there is any basin. */
export interface HoleVerdict {
  readonly test: string;
  readonly name: string;
  readonly fillings: readonly FillingRow[];
  /** Of the filling that counts, the last. */
  readonly empty_after_h: number | null;
  /** Whether water was gone in time; the plan's own limit first, then the published ones. */
  readonly limits: readonly {
    readonly hours: number;
    readonly result: Verdict;
    readonly published: string;
    readonly source: Source | null;
  }[];
  /** How the soil of such a hole is called by the handbook scale of holes 18 in deep. */
  readonly drains: 'good' | 'fair' | 'poor' | null;
  readonly drains_source: Source;
  /** Rate downwards with the wall's share taken off, before any factor for design; null where the test cannot be used. */
  readonly rate_mm_per_h: number | null;
  /** As deep as the level fell in a day, at most a foot. */
  readonly depth_by_handout_m: number | null;
  readonly depth_source: Source;
  readonly notes: readonly string[];
}

const floridaScale: Source = {
  title:
    'Drainage of an 18 in hole: gone in 1 h good, in hours to a day fair, later poor or high water',
  publisher: 'University of Florida extension',
  year: null,
  mark: 'seen',
};
const goodH = 1;
const fairH = 24;
/** A garden is never deeper, whatever the soil takes. Source: `holeTest`. */
const deepestM = footM;
/** A last filling that takes so many times as long as the first was read in soil that was still dry at first. Our choice. */
const drierTimes = 1.25;

/** The verdict of each soil test that has readings or fillings. */
export function holeVerdicts(
  tests: readonly FeatureOf<'soil-test'>[],
  soil: SoilSettings | undefined,
): HoleVerdict[] {
  return tests
    .filter(({ properties }) => readingsOf(properties).length > 1)
    .map((test) => holeVerdict(test, soil));
}

function holeVerdict(test: FeatureOf<'soil-test'>, soil: SoilSettings | undefined): HoleVerdict {
  const { properties } = test;
  const correction: WallCorrection | undefined = soil?.borehole;
  const reduced = reduceTest(properties, correction);
  const fillings = fillingRows(properties);
  const emptyH = fillings.at(-1)?.empty_after_h ?? null;
  const ownH = soil?.drain_limit_h;
  const judge = (hours: number): Verdict =>
    reduced.problems.some(({ stops }) => stops)
      ? 'check'
      : emptyH !== null && emptyH <= hours
        ? 'pass'
        : 'fail';
  const usable = reduced.fallMPerS;
  return {
    test: test.id,
    name: featureName(test),
    fillings,
    empty_after_h: emptyH,
    limits: [
      ...(ownH === undefined
        ? []
        : [{ hours: ownH, result: judge(ownH), published: 'the plan’s own limit', source: null }]),
      ...drainLimits.map(({ hours, published, source }) => ({
        hours,
        result: judge(hours),
        published,
        source,
      })),
    ],
    drains: emptyH === null ? 'poor' : emptyH <= goodH ? 'good' : emptyH <= fairH ? 'fair' : 'poor',
    drains_source: floridaScale,
    rate_mm_per_h: reduced.rateMPerS === null ? null : reduced.rateMPerS * mmPerHOfMPerS,
    depth_by_handout_m: usable === null ? null : Math.min(deepestM, usable * dayS),
    depth_source: holeTest,
    notes: [
      ...reduced.problems.map(({ text }) => text),
      ...fillingNotes(fillings),
      ...reduced.notes,
    ],
  };
}

function fillingRows(test: FeatureOf<'soil-test'>['properties']): FillingRow[] {
  const given = test.fillings ?? [];
  const readings = readingsOf(test);
  if (test.readings === undefined || test.readings.length === 0) {
    return given.map(({ water_depth_m, hours, left_m = 0 }) =>
      fillingRow(water_depth_m, hours, left_m),
    );
  }
  const dry =
    readings.find(({ water_depth_m }) => water_depth_m === 0) ?? readings[readings.length - 1];
  const [first] = readings;
  return [
    fillingRow(first.water_depth_m, (dry.minutes - first.minutes) / hourMin, dry.water_depth_m),
  ];
}

function fillingRow(waterM: number, hours: number, leftM: number): FillingRow {
  const fellM = waterM - leftM;
  return {
    water_depth_m: waterM,
    hours,
    left_m: leftM,
    empty_after_h: leftM === 0 ? hours : fellM > 0 ? (hours * waterM) / fellM : null,
  };
}

function fillingNotes(fillings: readonly FillingRow[]): string[] {
  const first = fillings.at(0)?.empty_after_h;
  const last = fillings.at(-1)?.empty_after_h;
  if (fillings.length < 2) {
    return [
      'Only one filling is on record, and dry soil drinks: fill the hole again at once, and count the second or third.',
    ];
  }
  if (typeof first !== 'number' || typeof last !== 'number') return [];
  if (last > drierTimes * first) {
    return [
      `The last filling took ${(last / first).toFixed(1)} times as long as the first: fill once more, until two agree.`,
    ];
  }
  return [];
}

/** The depth of ponding that is gone in time at a rate, metres, at most a foot. */
export function depthInTimeM(rateMPerS: number, soil: SoilSettings | undefined): number {
  const limitH = soil?.drain_limit_h ?? usualDrainLimit.hours;
  return Math.min(deepestM, rateMPerS * limitH * hourS);
}
