import type { SoilSettings } from '../plan/soil-settings';
import { depth, plain, rate, time, type Step } from './step';
import { testProblems, type SoilTestProperties, type TestProblem } from './test-problems';

export type BoreholeCorrection = NonNullable<SoilSettings['borehole']>;

/** A field test worked out. */
export interface ReducedTest {
  /** Downward infiltration rate, metres a second; `null` without readings or with figures that cannot be used. */
  readonly rateMPerS: number | null;
  /** Fall of the level over its time, metres a second, before any correction. */
  readonly fallMPerS: number | null;
  /** What the two corrections for the wall make of it; `null` where the hole's diameter is not known or it is a ring. */
  readonly corrected: Readonly<Record<BoreholeCorrection, number>> | null;
  /** The two readings, from 0, between which the rate was taken. */
  readonly interval: readonly [number, number] | null;
  readonly steps: readonly Step[];
  readonly problems: readonly TestProblem[];
  readonly notes: readonly string[];
}

/** The correction taken where the plan names none: the slower of the two. */
export const usualCorrection: BoreholeCorrection = 'falling-head';

/** Two rates that differ by less are steady: a tenth (common practice, no source). */
const steadyShare = 0.1;

/**
 * The infiltration rate that a field test shows, with its arithmetic.
 *
 * The last interval in which there was water counts: the soil is wettest in it, and the rate nearest to steady. In a
 * dug hole and a ring the rate is the fall over its time. A borehole loses water through its wall too, which is
 * taken off in one of two published ways:
 * - falling head: the fall times r / (r + 2 h), the share of the bottom in the wetted area at the mean depth h;
 * - reduction factor: the fall over (2 d - drop) / diameter + 1, which is r / (r + h), hence up to twice as fast.
 *
 * Sources: `holeTest`, `fallingHead`, `reductionFactor`.
 */
export function reduceTest(
  test: SoilTestProperties,
  borehole: BoreholeCorrection = usualCorrection,
): ReducedTest {
  const problems = testProblems(test);
  const readings = test.readings ?? [];
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
  const radiusM = method === 'ring' || test.diameter_m === undefined ? null : test.diameter_m / 2;
  const now = between(test, last, radiusM);
  const steps = fallSteps(now);
  const rateMPerS =
    method === 'borehole' && now.corrected !== null ? now.corrected[borehole] : now.fallMPerS;
  if (radiusM !== null) steps.push(...wallSteps(now, radiusM, method === 'borehole'));
  steps.push({
    words: 'In a day that is',
    formula: '{rate} × 24 h',
    terms: { rate: rate(rateMPerS) },
    result: depth(rateMPerS * 24 * 3600),
  });

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
    const one = method === 'borehole' ? before.corrected?.[borehole] : before.fallMPerS;
    const change = one === undefined || one === 0 ? 0 : rateMPerS / one - 1;
    if (Math.abs(change) > steadyShare) {
      notes.push(
        `The rate was not steady: the last interval is ${Math.round(Math.abs(change) * 100)} % ${change < 0 ? 'slower' : 'faster'} than the one before. Go on until they agree within a tenth.`,
      );
    }
  }
  if (method === 'hole') {
    notes.push(
      'A dug hole loses water through its wall too, so this is faster than the bottom of a basin will be; the factor for design has to cover it.',
    );
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

interface Interval {
  readonly fromM: number;
  readonly toM: number;
  readonly dropM: number;
  readonly startS: number;
  readonly endS: number;
  readonly fallMPerS: number;
  readonly meanM: number;
  readonly corrected: Readonly<Record<BoreholeCorrection, number>> | null;
}

/** The interval that ends at a reading. */
function between(test: SoilTestProperties, end: number, radiusM: number | null): Interval {
  const [a, b] = (test.readings ?? []).slice(end - 1, end + 1);
  const [fromM, toM] = [a.water_depth_m, b.water_depth_m];
  const dropM = fromM - toM;
  const [startS, endS] = [a.minutes * 60, b.minutes * 60];
  const fallMPerS = dropM / (endS - startS);
  const meanM = (fromM + toM) / 2;
  const corrected =
    radiusM === null
      ? null
      : {
          'falling-head': (fallMPerS * radiusM) / (radiusM + 2 * meanM),
          'reduction-factor': fallMPerS / reduction(fromM, dropM, radiusM),
        };
  return { fromM, toM, dropM, startS, endS, fallMPerS, meanM, corrected };
}

function reduction(fromM: number, dropM: number, radiusM: number): number {
  return (2 * fromM - dropM) / (2 * radiusM) + 1;
}

function fallSteps({ fromM, toM, dropM, startS, endS, fallMPerS }: Interval): Step[] {
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

function wallSteps(interval: Interval, radiusM: number, counts: boolean): Step[] {
  const { fromM, toM, dropM, fallMPerS, meanM, corrected } = interval;
  if (corrected === null) return [];
  const factor = reduction(fromM, dropM, radiusM);
  return [
    {
      words: counts
        ? 'The wall takes water too; it was wet to a mean depth of'
        : 'For comparison, with the wall’s share taken off: it was wet to a mean depth of',
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
