import type { SoilSettings } from '../plan/soil-settings';
import { area, depth, plain, rate, time, type ArithmeticStep } from './step';
import {
  readingsOf,
  testProblems,
  type SoilTestProperties,
  type TestProblem,
} from './test-problems';
import { dayS } from '../units/units';

/** A published way of taking off what a hole's wall took. */
export type WallCorrection = NonNullable<SoilSettings['borehole']>;
/** A percolation time with the hole that it was read in. */
export type Percolation = NonNullable<SoilSettings['percolation']>;

/** A field test worked out. */
export interface ReducedTest {
  /** Downward infiltration rate, metres a second; `null` without readings or with figures that cannot be used. */
  readonly rateMPerS: number | null;
  /** Fall of the level over its time, metres a second, before any correction. */
  readonly fallMPerS: number | null;
  /** What the two corrections for the wall make of it; `null` for a ring. */
  readonly corrected: Readonly<Record<WallCorrection, number>> | null;
  /** The two readings, from 0, between which the rate was taken; `null` without readings. */
  readonly interval: readonly [number, number] | null;
  readonly steps: readonly ArithmeticStep[];
  readonly problems: readonly TestProblem[];
  readonly notes: readonly string[];
}

/** The correction taken where the plan names none: the slower of the two. */
export const usualCorrection: WallCorrection = 'falling-head';

/**
 * Diameter of a dug hole of which it is not given, metres: the narrowest that a spade or hand auger makes, so that
 * the wall's share is not underrated. Common practice, no source.
 */
export const narrowestHoleM = 0.1;

/** Two rates that differ by less are steady: a tenth (common practice, no source). */
const steadyShare = 0.1;

/**
 * The infiltration rate that a field test shows, with its arithmetic.
 *
 * The last interval in which there was water counts: the soil is wettest in it, and the rate nearest to steady. In a
 * ring the rate is the fall over its time. A hole, dug or bored, loses water through its wall too, which is
 * taken off in one of two published ways:
 * - falling head: the fall times r / (r + 2 h), the share of the bottom in the wetted area at the mean depth h;
 * - reduction factor: the fall over (2 d - drop) / diameter + 1, which is r / (r + h), hence up to twice as fast.
 *
 * Sources: `holeTest`, `fallingHead`, `reductionFactor`.
 */
export function reduceTest(
  test: SoilTestProperties,
  correction: WallCorrection = usualCorrection,
): ReducedTest {
  const problems = testProblems(test);
  const readings = readingsOf(test);
  const unusable = readings.length === 0 || problems.some(({ stops }) => stops);
  if (unusable) {
    return {
      rateMPerS: null,
      fallMPerS: null,
      corrected: null,
      interval: null,
      steps: [],
      problems,
      notes: [],
    };
  }

  let last = readings.length - 1;
  while (last > 1 && readings[last - 1].water_depth_m === 0) last--;
  const method = test.method ?? 'hole';
  const radiusM = method === 'ring' ? null : (test.diameter_m ?? narrowestHoleM) / 2;
  const now = between(test, last, radiusM);
  const rateMPerS = now.corrected?.[correction] ?? now.fallMPerS;
  const steps = [
    ...fallSteps(now),
    ...(radiusM === null ? [] : wallSteps(now, radiusM)),
    inADay(rateMPerS),
  ];

  const notes: string[] = [];
  if (now.dropM === 0) {
    notes.push(
      'The water did not fall between the last two readings: the rate is zero. Wait longer, or choose another place.',
    );
  } else if (now.toM === 0) {
    notes.push(
      'The hole was empty at the last reading; it ran dry some time before, so the true rate may be higher.',
    );
  }
  if (last === 1) {
    notes.push(
      'With two readings it cannot be seen whether the rate was steady. Fill again and repeat until it is.',
    );
  } else if (now.dropM > 0) {
    const before = between(test, last - 1, radiusM);
    const one = before.corrected?.[correction] ?? before.fallMPerS;
    const change = one === 0 ? 0 : rateMPerS / one - 1;
    if (Math.abs(change) > steadyShare) {
      notes.push(
        `The rate was not steady: the last interval is ${Math.round(Math.abs(change) * 100)} % ${change < 0 ? 'slower' : 'faster'} than the one before. Go on until they agree within a tenth.`,
      );
    }
  }
  if (method === 'hole') {
    notes.push(handDug);
    if (test.diameter_m === undefined) {
      notes.push(
        `The hole’s diameter is not given, so ${narrowestHoleM * 100} cm (4 in) is taken, the narrowest that is dug: give it, and the rate may be faster.`,
      );
    }
  } else if (method === 'ring') {
    notes.push('Below a single ring water spreads sideways: the rate is on the fast side.');
  }
  return {
    rateMPerS,
    fallMPerS: now.fallMPerS,
    corrected: now.corrected,
    interval: [last - 1, last],
    steps,
    problems,
    notes,
  };
}

/** Said with every rate from a hole dug by hand. */
export const handDug =
  'A hole dug by hand is a screening test: what its wall took is taken off by arithmetic. Repeat it in wet soil and at the basin’s own place.';

/**
 * The infiltration rate behind a percolation time. The time counts what the wall took, which is taken off as in a hole
 * read at one depth of water: as the falling head, or as the reduction factor at that mean depth.
 *
 * Sources: `fallingHead`, `reductionFactor`.
 */
export function reducePercolation(
  { minutes, fall_m, diameter_m, water_depth_m: waterM }: Percolation,
  correction: WallCorrection = usualCorrection,
): ReducedTest {
  const radiusM = diameter_m / 2;
  const fallMPerS = fall_m / (minutes * 60);
  const corrected = {
    'falling-head': fallMPerS * bottomShare(radiusM, waterM),
    'reduction-factor': fallMPerS / (waterM / radiusM + 1),
  };
  const rateMPerS = corrected[correction];
  return {
    rateMPerS,
    fallMPerS,
    corrected,
    interval: null,
    steps: [
      {
        words: 'The level fell at',
        formula: '{drop} ÷ {time}',
        terms: { drop: depth(fall_m), time: time(minutes * 60) },
        result: rate(fallMPerS),
      },
      {
        words: 'Water left by bottom and wet wall together',
        formula: 'π × {radius}² + 2 × π × {radius} × {water}',
        terms: { radius: depth(radiusM), water: depth(waterM) },
        result: area(wettedAreaM2(radiusM, waterM)),
      },
      correction === 'falling-head'
        ? {
            words: 'Falling-head correction: the bottom’s share of it',
            formula: '{fall} × π × {radius}² ÷ {wetted}',
            terms: {
              fall: rate(fallMPerS),
              radius: depth(radiusM),
              wetted: area(wettedAreaM2(radiusM, waterM)),
            },
            result: rate(rateMPerS),
          }
        : {
            words: 'Reduction factor: half of the wall counts',
            formula: '{fall} ÷ ({water} ÷ {radius} + 1)',
            terms: { fall: rate(fallMPerS), water: depth(waterM), radius: depth(radiusM) },
            result: rate(rateMPerS),
          },
      inADay(rateMPerS),
    ],
    problems: [],
    notes: [
      'A percolation time is not a rate of infiltration: what the hole’s wall took is taken off it.',
    ],
  };
}

/** Area of the bottom and the wetted wall of a round hole, square metres. Geometry. */
export function wettedAreaM2(radiusM: number, waterM: number): number {
  return Math.PI * radiusM ** 2 + 2 * Math.PI * radiusM * waterM;
}

/** Share of the bottom in that area. */
function bottomShare(radiusM: number, waterM: number): number {
  return (Math.PI * radiusM ** 2) / wettedAreaM2(radiusM, waterM);
}

function inADay(rateMPerS: number): ArithmeticStep {
  return {
    words: 'In a day that is',
    formula: '{rate} × 24 h',
    terms: { rate: rate(rateMPerS) },
    result: depth(rateMPerS * dayS),
  };
}

interface Interval {
  readonly fromM: number;
  readonly toM: number;
  readonly dropM: number;
  readonly startS: number;
  readonly endS: number;
  readonly fallMPerS: number;
  readonly meanM: number;
  readonly corrected: Readonly<Record<WallCorrection, number>> | null;
}

/** The interval that ends at a reading. */
function between(test: SoilTestProperties, end: number, radiusM: number | null): Interval {
  const [a, b] = readingsOf(test).slice(end - 1, end + 1);
  const [fromM, toM] = [a.water_depth_m, b.water_depth_m];
  const dropM = fromM - toM;
  const [startS, endS] = [a.minutes * 60, b.minutes * 60];
  const fallMPerS = dropM / (endS - startS);
  const meanM = (fromM + toM) / 2;
  const corrected =
    radiusM === null
      ? null
      : {
          'falling-head': fallMPerS * bottomShare(radiusM, meanM),
          'reduction-factor': fallMPerS / reduction(fromM, dropM, radiusM),
        };
  return { fromM, toM, dropM, startS, endS, fallMPerS, meanM, corrected };
}

function reduction(fromM: number, dropM: number, radiusM: number): number {
  return (2 * fromM - dropM) / (2 * radiusM) + 1;
}

function fallSteps({ fromM, toM, dropM, startS, endS, fallMPerS }: Interval): ArithmeticStep[] {
  return [
    {
      words: 'In the last interval the water fell by',
      formula: '{from} − {to}',
      terms: { from: depth(fromM), to: depth(toM) },
      result: depth(dropM),
    },
    {
      words: 'That took',
      formula: '{end} − {start}',
      terms: { end: time(endS), start: time(startS) },
      result: time(endS - startS),
    },
    {
      words: 'The level fell at',
      formula: '{drop} ÷ {time}',
      terms: { drop: depth(dropM), time: time(endS - startS) },
      result: rate(fallMPerS),
    },
  ];
}

function wallSteps(interval: Interval, radiusM: number): ArithmeticStep[] {
  const { fromM, toM, dropM, fallMPerS, meanM, corrected } = interval;
  if (corrected === null) return [];
  const factor = reduction(fromM, dropM, radiusM);
  return [
    {
      words: 'The wall takes water too; it was wet to a mean depth of',
      formula: '({from} + {to}) ÷ 2',
      terms: { from: depth(fromM), to: depth(toM) },
      result: depth(meanM),
    },
    {
      words: 'Falling-head correction: the bottom’s share of the wetted area',
      formula: '{fall} × {radius} ÷ ({radius} + 2 × {mean})',
      terms: { fall: rate(fallMPerS), radius: depth(radiusM), mean: depth(meanM) },
      result: rate(corrected['falling-head']),
    },
    {
      words: 'Reduction factor, the other published way',
      formula: '(2 × {from} − {drop}) ÷ {diameter} + 1',
      terms: { from: depth(fromM), drop: depth(dropM), diameter: depth(2 * radiusM) },
      result: plain(factor),
    },
    {
      words: 'With it',
      formula: '{fall} ÷ {factor}',
      terms: { fall: rate(fallMPerS), factor: plain(factor) },
      result: rate(corrected['reduction-factor']),
    },
  ];
}
