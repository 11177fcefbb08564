import { InputError } from '../errors';
import type { DepthTableSettings } from '../plan/storm-settings';

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
 * @throws {InputError} `depth-table-range`; `depth-table-shape` for a table of a plan written by hand whose rows do not
 *   fit its headings.
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
  if (minutes < 2 * 24 * 60) return `${trimmed(minutes / 60)} h`;
  return `${trimmed(minutes / (24 * 60))} days`;
}

function trimmed(value: number): string {
  return String(Number(value.toFixed(2)));
}

function beyond(problem: string, remedy: string): InputError {
  return new InputError({ code: 'depth-table-range', where: 'the depth table', problem, remedy });
}
