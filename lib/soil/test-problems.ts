import type { FeatureOf } from '../plan/schema';
import { dayMin, hourMin } from '../units/units';

export type SoilTestProperties = FeatureOf<'soil-test'>['properties'];

/** The readings of a test; where there are none, what the last filling of the hole comes to. */
export function readingsOf({
  readings,
  fillings,
}: SoilTestProperties): NonNullable<SoilTestProperties['readings']> {
  if (readings !== undefined && readings.length > 0) return readings;
  const last = fillings?.at(-1);
  if (last === undefined) return [];
  return [
    { minutes: 0, water_depth_m: last.water_depth_m },
    { minutes: last.hours * hourMin, water_depth_m: last.left_m ?? 0 },
  ];
}

/** Something about a test's figures. */
export interface TestProblem {
  /** Which reading it is about, from 0; `null` when it is about the test. */
  readonly row: number | null;
  /** Whether the test cannot be used because of it. */
  readonly stops: boolean;
  readonly text: string;
}

/** More water than this in a hole for a rain garden asks for a second look at the unit. */
const deepWaterM = 3;
/** Two days: longer between readings, evaporation and rain count for more than the soil. */
const longMinutes = 2 * dayMin;

/** What is wrong, or odd, with the figures of a soil test. A test without readings has no problem: it is not done. */
export function testProblems(test: SoilTestProperties): TestProblem[] {
  const readings = readingsOf(test);
  if (readings.length === 0) return [];
  const problems: TestProblem[] = [];
  const stop = (row: number | null, text: string): void => {
    problems.push({ row, stops: true, text });
  };
  const warn = (row: number | null, text: string): void => {
    problems.push({ row, stops: false, text });
  };

  if (readings.length === 1) {
    stop(null, 'One reading says nothing of a rate: read the depth again after some minutes.');
  }
  if (test.method === 'borehole' && test.diameter_m === undefined) {
    stop(null, 'A borehole needs its diameter: the wall’s share of the water depends on it.');
  }
  readings.forEach(({ minutes, water_depth_m }, row) => {
    if (test.hole_depth_m !== undefined && water_depth_m > test.hole_depth_m + 1e-9) {
      stop(row, 'That is more water than the hole is deep.');
    } else if (water_depth_m > deepWaterM) {
      warn(row, 'That is very deep for a test hole: is the unit right?');
    }
    if (row === 0) {
      if (water_depth_m === 0) stop(row, 'There is no water in the hole at the first reading.');
      return;
    }
    const before = readings[row - 1];
    if (minutes <= before.minutes) {
      // Which of the two depths came first is not known then, so nothing is said of them.
      stop(row, 'This is not later than the reading before it: minutes count on from the first.');
      return;
    }
    if (minutes - before.minutes > longMinutes) {
      warn(row, 'Over two days between readings: rain and evaporation count too.');
    }
    if (water_depth_m > before.water_depth_m) {
      stop(
        row,
        'The water has risen. After a refill begin a new test with the new depth; if nobody poured, ground water is coming in: choose another place.',
      );
    }
  });
  return problems;
}
