import { InputError } from '../../errors';
import { isDay } from '../../plan/schema';
import { dayS } from '../../units/units';

/** A day of the calendar, year-month-day: compares as text. */
export type Day = string;

/** Which comes first in dates such as 3/4/2027. */
export type DateOrder = 'month-first' | 'day-first';

const monthNames = [
  'january',
  'february',
  'march',
  'april',
  'may',
  'june',
  'july',
  'august',
  'september',
  'october',
  'november',
  'december',
];
const shortMonths = monthNames.map((name) => name[0].toUpperCase() + name.slice(1, 3));
const weekdays = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];

/** Days since the beginning of 1970. */
export function dayNumber(day: Day): number {
  return Date.parse(`${day}T00:00:00Z`) / 1000 / dayS;
}

/** A day so many days later, or earlier when below zero. */
export function addDays(day: Day, days: number): Day {
  return new Date((dayNumber(day) + days) * dayS * 1000).toISOString().slice(0, 10);
}

/** Day of the week, 0 for Sunday. */
export function weekdayOf(day: Day): number {
  return new Date(dayNumber(day) * dayS * 1000).getUTCDay();
}

/** A day with its weekday, for people: 'Sat 8 May 2027'. */
export function dayText(day: Day): string {
  const [year, month, date] = day.split('-').map(Number);
  return `${weekdays[weekdayOf(day)].slice(0, 3)} ${date} ${shortMonths[month - 1]} ${year}`;
}

/**
 * A date as people write it: `2027-05-08`, `8 May 2027`, `May 8, 2027`, `13/5/2027`.
 *
 * @param where - what it is, for sentences: a file and line, or an option.
 * @throws {InputError} `date-order` for what may be read two ways, `date-not-read`.
 */
export function readDay(text: string, where: string, order?: DateOrder): Day {
  const written = text.trim();
  const day = isoOf(written) ?? named(written) ?? slashed(written, where, order);
  if (day !== null && isDay(day)) return day;
  throw new InputError({
    code: 'date-not-read',
    where,
    problem: `'${written.slice(0, 40)}' is no date`,
    remedy: 'write it as 2027-05-08',
  });
}

/** A day of any year, as of frost: month and day, `05-15`. Written as `05-15`, `15 May` or `May 15`. @throws {InputError} */
export function readDayOfYear(text: string, where: string): string {
  const written = text.trim();
  const [, month, date] = /^(\d\d)-(\d\d)$/.exec(written) ?? [];
  const day = month === undefined ? named(`${written} 2028`) : `2028-${month}-${date}`;
  if (day !== null && isDay(day)) return day.slice(5);
  throw new InputError({
    code: 'date-not-read',
    where,
    problem: `'${written.slice(0, 40)}' is no day of the year`,
    remedy: 'write it with the name of its month, as 15 May, or month first as 05-15',
  });
}

function isoOf(text: string): Day | null {
  const [, year, month, date] = /^(\d{4})-(\d\d?)-(\d\d?)$/.exec(text) ?? [];
  return year === undefined ? null : join(year, month, date);
}

function named(text: string): Day | null {
  const found =
    /^(?<date>\d\d?)\.?[ -](?<month>[a-z]{3,9})\.?[ ,-]+(?<year>\d{4})$/i.exec(text) ??
    /^(?<month>[a-z]{3,9})\.? (?<date>\d\d?),? (?<year>\d{4})$/i.exec(text);
  const { date, month, year } = found?.groups ?? {};
  if (month === undefined) return null;
  const at = monthNames.findIndex((name) => name.startsWith(month.toLowerCase()));
  return at === -1 ? null : join(year, String(at + 1), date);
}

function slashed(text: string, where: string, order: DateOrder | undefined): Day | null {
  const [, first, second, year] = /^(\d\d?)[/.-](\d\d?)[/.-](\d{4})$/.exec(text) ?? [];
  if (first === undefined) return null;
  const dayFirst = join(year, second, first);
  const monthFirst = join(year, first, second);
  if (Number(first) > 12 || dayFirst === monthFirst) return dayFirst;
  if (Number(second) > 12) return monthFirst;
  if (order !== undefined) return order === 'day-first' ? dayFirst : monthFirst;
  throw new InputError({
    code: 'date-order',
    where,
    problem: `'${text}' may be ${dayText(dayFirst)} or ${dayText(monthFirst)}`,
    remedy: `write which: ${dayFirst} or ${monthFirst}`,
  });
}

function join(year: string, month: string, date: string): Day {
  return `${year}-${month.padStart(2, '0')}-${date.padStart(2, '0')}`;
}
