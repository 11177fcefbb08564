import { InputError } from '../../errors';
import { addDays, weekdayOf, type Day } from './day';

/** A stretch of days as a rule words it, always entered by the user. */
export interface Span {
  readonly days: number;
  /** The most that it may be, where the rule has such: 3 to 10 days. */
  readonly atMost: number | null;
  /** Whether only days count that are neither of a weekend nor holidays. */
  readonly business: boolean;
  /** As the user wrote it. */
  readonly words: string;
}

/**
 * Reads `3 business days`, `3 to 10 working days`, `48 hours`, `45 days`, `6 weeks`. Hours are whole days, rounded up.
 *
 * @param where - the option or field that it stands in.
 * @throws {InputError} `span-not-read`.
 */
export function readSpan(text: string, where: string): Span {
  const pattern =
    /^(\d+)(?:\s*(?:to|-|–)\s*(\d+))?\s*(?:full\s+)?(business|working)?\s*(hours?|h|days?|d|weeks?)$/i;
  const [, from, to, business, unit] = pattern.exec(text.trim()) ?? [];
  if (from === undefined) {
    throw new InputError({
      code: 'span-not-read',
      where,
      problem: `'${text.slice(0, 40)}' says no number of days`,
      remedy: "write it like '3 business days', '2 to 10 working days', '48 hours' or '45 days'",
    });
  }
  const inDays = (figure: string): number => {
    if (/^h/i.test(unit)) return Math.ceil(Number(figure) / 24);
    return Number(figure) * (/^w/i.test(unit) ? 7 : 1);
  };
  return {
    days: inDays(from),
    atMost: (to as string | undefined) === undefined ? null : inDays(to),
    business: (business as string | undefined) !== undefined,
    words: text.trim(),
  };
}

/** Days on which offices are closed, beside weekends. */
export type Holidays = ReadonlySet<Day>;

export function isBusinessDay(day: Day, holidays: Holidays): boolean {
  const weekday = weekdayOf(day);
  return weekday !== 0 && weekday !== 6 && !holidays.has(day);
}

/**
 * The last day on which to ask, so that as many full days as the notice has lie between it and a day: neither the day of
 * the call nor the day itself counts. Florida: two full business days before a Saturday are asked for on Wednesday.
 */
export function lastDayToAsk(before: Day, notice: Span, holidays: Holidays): Day {
  let day = addDays(before, -1);
  for (let left = notice.days; left > 0; day = addDays(day, -1)) {
    if (counts(day, notice, holidays)) left--;
  }
  // the service takes calls on business days, and a call made later counts as the next day's
  while (notice.business && !isBusinessDay(day, holidays)) day = addDays(day, -1);
  return day;
}

/** The first day on which to ask, where a rule lets nobody ask earlier; `null` where it does not. */
export function firstDayToAsk(before: Day, notice: Span, holidays: Holidays): Day | null {
  if (notice.atMost === null) return null;
  let day = before;
  for (let left = notice.atMost; left > 0; day = addDays(day, -1)) {
    if (counts(day, notice, holidays)) left--;
  }
  return day;
}

/** The first day with all of a notice's days between it and the day of the call. */
export function firstDayToDig(asked: Day, notice: Span, holidays: Holidays): Day {
  let day = addDays(asked, 1);
  for (let left = notice.days; left > 0; day = addDays(day, 1)) {
    if (counts(day, notice, holidays)) left--;
  }
  return day;
}

/** The last day of a stretch that begins after a day. */
export function lastDayOf(from: Day, span: Span, holidays: Holidays): Day {
  let day = from;
  for (let left = span.days; left > 0;) {
    day = addDays(day, 1);
    if (counts(day, span, holidays)) left--;
  }
  return day;
}

function counts(day: Day, { business }: Span, holidays: Holidays): boolean {
  return !business || isBusinessDay(day, holidays);
}
