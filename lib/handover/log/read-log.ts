import { InputError } from '../../errors';
import { headedTable, type HeadedRow } from '../../tables/headed-table';
import { parseRain } from '../../units/parse-length';
import { inchMm } from '../../units/units';
import { readDay, type DateOrder, type Day } from '../dates/day';

/** One look at a garden after a rain. */
export interface LogRow {
  /** The file and line. */
  readonly where: string;
  readonly day: Day;
  readonly rainMm: number;
  /** How long it rained; `null` where it was not written down. */
  readonly rainH: number | null;
  /** From the end of the rain until it was dry. */
  readonly dryH: number;
  /** Whether it was not dry yet when it was looked at after so many hours. */
  readonly stillWet: boolean;
  /** Name or id of the basin; empty where there is one only. */
  readonly basin: string;
  readonly note: string;
}

const columns = {
  date: { names: ['date', 'day'], needed: true },
  rain: { names: ['rain'] },
  rainMm: { names: ['rain mm', 'rain (mm)'] },
  rainIn: { names: ['rain in', 'rain (in)', 'rain inches'] },
  hours: {
    names: ['hours until dry', 'hours', 'dry after', 'dry after hours'],
    needed: true,
  },
  rainHours: { names: ['rain hours', 'rain lasted', 'duration'] },
  basin: { names: ['basin', 'garden'] },
  note: { names: ['note', 'remark', 'photo'] },
} as const;

type Row = HeadedRow<keyof typeof columns>;

/** More than this nobody waits for a garden to dry, hours: a slip. Our choice, no source. */
const mostH = 2000;
const mostRainMm = 2000;

/**
 * Reads a log of checks: date, rain (`25 mm`, or a column `rain mm` or `rain in`), hours until dry (`>48` where it was still wet
 * then), and if they are there how long it rained, the basin, a note.
 *
 * @throws {InputError} naming the line: what `headedTable` and `readDay` throw, `log-no-rain`, `log-rain`, `log-hours`.
 */
export function readLog(text: string, name: string, order?: DateOrder): LogRow[] {
  return headedTable(text, name, 'a log of checks', columns).map((row) => ({
    where: row.where,
    day: readDay(row.text('date'), row.where, order),
    rainMm: rainOf(row),
    rainH: rainHoursOf(row),
    ...hoursOf(row),
    basin: row.text('basin'),
    note: row.text('note'),
  }));
}

function rainOf(row: Row): number {
  const [inMm, inInches] = [row.text('rainMm'), row.text('rainIn')];
  const rainMm =
    inMm !== ''
      ? (row.number('rainMm') ?? NaN)
      : inInches !== ''
        ? (row.number('rainIn') ?? NaN) * inchMm
        : withUnit(row);
  if (rainMm > 0 && rainMm <= mostRainMm) return rainMm;
  throw new InputError({
    code: 'log-rain',
    where: row.where,
    problem: `a rain of ${Math.round(rainMm)} mm fills no garden that is logged`,
    remedy: 'give what fell, or take the line out',
  });
}

function withUnit(row: Row): number {
  const written = row.text('rain');
  if (written === '') {
    throw new InputError({
      code: 'log-no-rain',
      where: row.where,
      problem: 'it does not say how much it rained',
      remedy: "write it as '25 mm' under 'rain', or have a column 'rain mm' or 'rain in'",
    });
  }
  try {
    return parseRain(written);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError({ ...error.toProblem(), where: row.where }, { cause: error });
  }
}

function rainHoursOf(row: Row): number | null {
  const hours = row.number('rainHours');
  if (hours === null || (hours > 0 && hours <= mostH)) return hours;
  throw hoursFault(row, row.text('rainHours'));
}

function hoursOf(row: Row): Pick<LogRow, 'dryH' | 'stillWet'> {
  const written = row.text('hours');
  const [, mark, figure] = /^(>?)\s*(\d+(?:[.,]\d+)?)\s*h?$/.exec(written) ?? [];
  const dryH = figure === undefined ? NaN : Number(figure.replace(',', '.'));
  if (dryH >= 0 && dryH <= mostH) return { dryH, stillWet: mark === '>' };
  throw hoursFault(row, written);
}

function hoursFault(row: Row, written: string): InputError {
  return new InputError({
    code: 'log-hours',
    where: row.where,
    problem: `'${written.slice(0, 40)}' is no number of hours`,
    remedy: 'write it as 18, or as >48 where it was still wet after 48 h',
  });
}
