import { InputError } from '../errors';
import type { DepthTableSettings } from '../plan/storm-settings';
import { dayMin } from '../units/units';

/** A depth read off a table. */
export interface TableDepth {
  readonly depthMm: number;
  /** What was done where the table has no such duration, in the user's words; `null` where it has. */
  readonly note: string | null;
}

/**
 * Depth of rain for a duration and a return period. Between rows and between columns the line through the logarithms of
 * duration, return period and depth is taken, on which depth-duration curves are nearly straight.
 *
 * Below the shortest duration the rain is taken to fall as fast as in the shortest, and a note says so; beyond the
 * longest, and outside the return periods, the table says nothing.
 *
 * @throws {InputError} `depth-table-range`; for a table of a plan written by hand `depth-table-shape` where its rows do
 *   not fit its headings, `depth-table-order` as `checkRising`.
 */
export function tableDepth(
  table: DepthTableSettings,
  durationMin: number,
  returnPeriodY: number,
): TableDepth {
  const { durations_min: durations, return_periods_y: periods, depths_mm: depths } = table;
  if (!fits(table)) {
    throw new InputError({
      code: 'depth-table-shape',
      where: 'the depth table',
      problem:
        'its durations and return periods must rise, with a row for each duration and in it a depth for each return period',
      remedy: 'open or paste the published table again',
    });
  }
  checkRising(table, 'the depth table');
  const [shortest, longest] = [durations[0], durations[durations.length - 1]];
  const [least, greatest] = [periods[0], periods[periods.length - 1]];
  if (returnPeriodY < least || returnPeriodY > greatest) {
    throw beyond(
      `it has return periods from ${least} to ${greatest} years, not ${returnPeriodY}`,
      'choose one within them',
    );
  }
  if (durationMin > longest) {
    throw beyond(
      `it ends at ${durationName(longest)}, the storm lasts ${durationName(durationMin)}`,
      'choose a shorter storm or a longer table',
    );
  }
  const at = (row: number): number => between(periods, depths[row], returnPeriodY);
  if (durationMin < shortest) {
    return {
      depthMm: (at(0) * durationMin) / shortest,
      note: `The depth table begins at ${durationName(shortest)}: within that time the rain is taken to fall evenly.`,
    };
  }
  const column = durations.map((_, row) => at(row));
  return { depthMm: between(durations, column, durationMin), note: null };
}

function fits({ durations_min, return_periods_y, depths_mm }: DepthTableSettings): boolean {
  const rises = (values: readonly number[]): boolean =>
    values.every((value, i) => i === 0 || value > values[i - 1]);
  return (
    rises(durations_min) &&
    rises(return_periods_y) &&
    depths_mm.length === durations_min.length &&
    depths_mm.every((row) => row.length === return_periods_y.length)
  );
}

/**
 * Longer and rarer rain is never less; a table in which it is has been mistyped, or misread.
 *
 * @param where - what to call the table. @throws {InputError} `depth-table-order` naming row and column.
 */
export function checkRising(
  { durations_min, return_periods_y, depths_mm }: DepthTableSettings,
  where: string,
): void {
  const fault = (problem: string): InputError =>
    new InputError({
      code: 'depth-table-order',
      where,
      problem,
      remedy:
        'compare that row and column with the published table, or write mm/h or in/h into its heading if it gives intensities',
    });
  durations_min.forEach((duration, row) => {
    if (duration === durations_min[row - 1])
      throw fault(`it has two rows for ${durationName(duration)}`);
    return_periods_y.forEach((period, column) => {
      const depth = depths_mm[row][column];
      if (period === return_periods_y[column - 1])
        throw fault(`it has two columns for ${period} years`);
      if (row > 0 && depth < depths_mm[row - 1][column]) {
        throw fault(
          `for ${period} years it has less rain in ${durationName(duration)} than in ${durationName(durations_min[row - 1])}`,
        );
      }
      if (column > 0 && depth < depths_mm[row][column - 1]) {
        throw fault(
          `for ${durationName(duration)} it has less rain in ${period} years than in ${return_periods_y[column - 1]}`,
        );
      }
    });
  });
}

/** The value at `x` on the line through the logarithms; `xs` ascending, `x` within them. A value of 0 makes it straight. */
function between(xs: readonly number[], ys: readonly number[], x: number): number {
  const above = xs.findIndex((each) => each >= x);
  if (xs[above] === x) return ys[above];
  const [x0, x1, y0, y1] = [xs[above - 1], xs[above], ys[above - 1], ys[above]];
  if (!(y0 > 0) || !(y1 > 0)) return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
  const share = Math.log(x / x0) / Math.log(x1 / x0);
  return y0 * (y1 / y0) ** share;
}

/** A duration as people say it: `5 min`, `2 h`, `3 days`. */
export function durationName(minutes: number): string {
  if (minutes < 120 && minutes !== 60) return `${trimmed(minutes)} min`;
  if (minutes < 2 * dayMin) return `${trimmed(minutes / 60)} h`;
  return `${trimmed(minutes / dayMin)} days`;
}

function trimmed(value: number): string {
  return String(Number(value.toFixed(2)));
}

function beyond(problem: string, remedy: string): InputError {
  return new InputError({ code: 'depth-table-range', where: 'the depth table', problem, remedy });
}
