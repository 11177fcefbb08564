import { practice, type Source } from '../../source';
import { addDays, dayText, type Day } from './day';
import {
  firstDayToAsk,
  firstDayToDig,
  lastDayOf,
  lastDayToAsk,
  type Holidays,
  type Span,
} from './notice';

/** What the user says of a job's days; nothing of it is assumed for a region. */
export interface DatesQuestion {
  readonly today: Day;
  readonly dig: Day;
  /** Days that digging takes, the first one with them. */
  readonly digDays: number;
  /** Of the public service, before digging. */
  readonly notice: Span;
  /** How long before digging a private locator is to be asked. */
  readonly privateNotice: Span | null;
  /** How long marks may be relied on, and from which day on that is counted. */
  readonly valid: Span | null;
  readonly validFrom: 'request' | 'start';
  readonly holidays: Holidays;
  /** Usual last frost of spring and first of autumn, month-day. */
  readonly frost: { readonly last: string; readonly first: string } | null;
  /** The day after digging when not given. */
  readonly plant: Day | null;
  /** How long before it comes a thing is to be ordered. */
  readonly lead: Span | null;
  /** Things that are hired for the days of digging. */
  readonly hires: readonly string[];
  /** Locates on record that digging relies on. */
  readonly locates: readonly { readonly name: string; readonly on: Day; readonly until: Day }[];
}

export type DateKind = 'ask' | 'order' | 'dig' | 'bring' | 'plant' | 'care' | 'check';

/** A day of the job, or the first of some. Field names are those of the JSON output. */
export interface DateEntry {
  /** Stays the same however days move. */
  readonly key: string;
  readonly kind: DateKind;
  readonly day: Day;
  /** The last day of it. */
  readonly until: Day;
  readonly repeats: { readonly every: 'week' | 'month' | 'year'; readonly until: Day } | null;
  readonly title: string;
  readonly note: string;
  readonly source: Source | null;
}

export interface JobDates {
  /** In the order of their days. */
  readonly entries: readonly DateEntry[];
  /** What does not go together, a sentence each. */
  readonly conflicts: readonly string[];
  readonly notes: readonly string[];
}

/** Weeks before the first frost by which roots should be in. */
const rootingWeeks = 6;
const care: Source = {
  title: 'Care of a young planting: water weekly, renew mulch yearly',
  publisher: 'none',
  year: null,
  mark: 'from memory',
};
const weeding: Source = {
  title: 'Plant list for rain gardens: weed monthly',
  publisher: 'a watershed district in Minnesota',
  year: 2017,
  mark: 'seen',
};

/** The days of a job, backwards and forwards from the first day of digging, and what of them does not go together. */
export function jobDates(question: DatesQuestion): JobDates {
  const digEnd = addDays(question.dig, Math.max(1, question.digDays) - 1);
  const plant = question.plant ?? addDays(digEnd, 1);
  const conflicts: string[] = [];
  const notes: string[] = [];
  const entries = [
    ...asking(question, digEnd, conflicts, notes),
    ...digging(question, digEnd),
    ...bringing(question, digEnd, plant, notes),
    ...planting(question, digEnd, plant, conflicts, notes),
    ...caring(question, plant),
  ];
  recorded(question, digEnd, conflicts);
  for (const { day, title } of entries) {
    if (day < question.today && question.dig >= question.today) {
      conflicts.push(`${title}: ${dayText(day)} is past.`);
    }
  }
  if (question.dig < question.today) {
    conflicts.push(`The day of digging, ${dayText(question.dig)}, is past.`);
  }
  if (question.holidays.size === 0) {
    notes.push(
      'No holidays are given: every day from Monday to Friday counts as a business day. Name those of your place.',
    );
  }
  return {
    entries: entries.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0)),
    conflicts,
    notes,
  };
}

/** An entry of one day that does not repeat. */
function entry(
  key: string,
  kind: DateKind,
  day: Day,
  title: string,
  note: string,
  more: Partial<DateEntry> = {},
): DateEntry {
  return { key, kind, day, until: day, repeats: null, title, note, source: null, ...more };
}

function asking(
  question: DatesQuestion,
  digEnd: Day,
  conflicts: string[],
  notes: string[],
): DateEntry[] {
  const { dig, notice, privateNotice, holidays, today } = question;
  const ask = lastDayToAsk(dig, notice, holidays);
  const earliest = firstDayToAsk(dig, notice, holidays);
  const entries = [
    entry(
      'ask-public',
      'ask',
      ask,
      'Ask the public service to mark lines, at the latest',
      `${notice.words} before digging, the day of the call not counted${earliest === null ? '' : `; not before ${dayText(earliest)}`}. Outline the ground to be dug in white first; keep the ticket’s number and wait for every owner’s answer.`,
    ),
  ];
  if (ask < today) {
    conflicts.push(
      `The public service had to be asked by ${dayText(ask)}: asked today, digging may begin on ${dayText(firstDayToDig(today, notice, holidays))}.`,
    );
  }
  if (earliest !== null && earliest > ask) {
    conflicts.push('No day lies both early enough and late enough to ask the public service.');
  }
  entries.push(...renewing(question, ask, digEnd, conflicts, notes));
  if (privateNotice === null) {
    notes.push(
      'Lines on your side of the meters are found by a private locator: ask one how long before digging to book, and give it.',
    );
  } else {
    entries.push(
      entry(
        'ask-private',
        'ask',
        lastDayToAsk(dig, privateNotice, holidays),
        'Book the private locator, at the latest',
        `${privateNotice.words} before digging, for lines on your side of the meters: lights, irrigation, propane, drains, feeds to outbuildings.`,
      ),
    );
  }
  return entries;
}

function renewing(
  question: DatesQuestion,
  ask: Day,
  digEnd: Day,
  conflicts: string[],
  notes: string[],
): DateEntry[] {
  const { dig, notice, valid, validFrom, holidays } = question;
  if (valid === null) {
    notes.push(
      'How long marks may be relied on is not given: your ticket says it. Give it, and renewal is worked out.',
    );
    return [];
  }
  const ends = lastDayOf(validFrom === 'request' ? ask : addDays(dig, -1), valid, holidays);
  const note = `${valid.words} from ${validFrom === 'request' ? 'the day of the call' : 'the day of digging'}; what the ticket says governs.`;
  const marks = entry('marks-end', 'ask', ends, 'Marks may be relied on until today', note);
  if (ends >= digEnd) return [marks];
  const renew = lastDayToAsk(addDays(ends, 1), notice, holidays);
  conflicts.push(
    `The locate ends on ${dayText(ends)}, before digging does on ${dayText(digEnd)}: renew it by ${dayText(renew)}, or dig nothing after it.`,
  );
  return [
    marks,
    entry(
      'renew-public',
      'ask',
      renew,
      'Renew the locate, at the latest',
      `so that new marks are there when the old ones end on ${dayText(ends)}`,
    ),
  ];
}

function digging({ dig, hires }: DatesQuestion, digEnd: Day): DateEntry[] {
  return [
    entry(
      'dig',
      'dig',
      dig,
      'Dig',
      'Not in wet or frozen ground; not before every owner of lines has answered.',
      { until: digEnd },
    ),
    ...hires.map((item, i) =>
      entry(`hire-${i + 1}`, 'bring', dig, `Hire: ${item}`, 'for the days of digging', {
        until: digEnd,
      }),
    ),
  ];
}

function bringing(
  { lead, holidays }: DatesQuestion,
  digEnd: Day,
  plant: Day,
  notes: string[],
): DateEntry[] {
  const entries = [
    entry(
      'bring-materials',
      'bring',
      digEnd,
      'Sand, soil mix and stone come',
      'when the hole is open, so that nothing lies in the rain; keep lorries off the floor and the way there',
      { source: practice },
    ),
    entry('bring-plants', 'bring', plant, 'Plants and mulch come', 'water them on the day', {
      source: practice,
    }),
  ];
  if (lead === null) {
    notes.push('How long before they come things are to be ordered is not given: ask the shops.');
    return entries;
  }
  return [
    entry(
      'order',
      'order',
      lastDayToAsk(digEnd, lead, holidays),
      'Order materials, at the latest',
      `${lead.words} before they come`,
    ),
    entry(
      'order-plants',
      'order',
      lastDayToAsk(plant, lead, holidays),
      'Order plants and mulch, at the latest',
      `${lead.words} before they come`,
    ),
    ...entries,
  ];
}

function planting(
  { frost }: DatesQuestion,
  digEnd: Day,
  plant: Day,
  conflicts: string[],
  notes: string[],
): DateEntry[] {
  const planted = entry(
    'plant',
    'plant',
    plant,
    'Plant by zone, water in, mulch',
    'deep zone first, from the middle outwards, off boards so that the floor stays loose',
    { source: practice },
  );
  if (plant <= digEnd) {
    conflicts.push(
      `Planting on ${dayText(plant)} begins before digging ends on ${dayText(digEnd)}.`,
    );
  }
  if (frost === null) {
    notes.push('Frost dates are not given: whether it is time to plant is not judged.');
    return [planted];
  }
  const window = plantingWindow(plant, frost);
  if (window === null) {
    conflicts.push(
      `Between the last frost and ${rootingWeeks} weeks before the first there is no time to plant.`,
    );
  } else if (plant < window.from || plant > window.to) {
    conflicts.push(
      `Planting on ${dayText(plant)} lies outside ${dayText(window.from)} to ${dayText(window.to)}, after the last frost and ${rootingWeeks} weeks before the first (common practice, no source): plant on another day, and mulch or sow a cover until then.`,
    );
  }
  return [planted];
}

/** From the last frost of spring to six weeks before the first of autumn, in the year of a day. */
export function plantingWindow(
  day: Day,
  { last, first }: NonNullable<DatesQuestion['frost']>,
): { readonly from: Day; readonly to: Day } | null {
  const year = Number(day.slice(0, 4));
  // south of the equator the season runs over the end of the year
  const overEnd = first < last;
  const startYear = overEnd && day.slice(5) < first ? year - 1 : year;
  const from = yearDay(startYear, last);
  const to = addDays(yearDay(overEnd ? startYear + 1 : startYear, first), -7 * rootingWeeks);
  return from > to ? null : { from, to };
}

/** A day of a year; the 29th of February is the 28th where there is none. */
function yearDay(year: number, monthDay: string): Day {
  const leap = new Date(Date.UTC(year, 1, 29)).getUTCMonth() === 1;
  return `${year}-${monthDay === '02-29' && !leap ? '02-28' : monthDay}`;
}

function caring({ frost }: DatesQuestion, plant: Day): DateEntry[] {
  const window = frost === null ? null : plantingWindow(plant, frost);
  const waterUntil =
    window === null ? addDays(plant, 12 * 7) : addDays(window.to, 7 * rootingWeeks);
  const later = (years: number): Day => yearDay(Number(plant.slice(0, 4)) + years, plant.slice(5));
  const seasons = later(2);
  return [
    entry(
      'check-first-rains',
      'check',
      addDays(plant, 1),
      'From now on watch the first rains',
      'After each of the first three write down date, rain and the hours until it is dry (lotfall built reads that), and look at inlet, notch and berm.',
      { source: practice },
    ),
    entry(
      'water',
      'care',
      addDays(plant, 7),
      'Water, unless it rained',
      'about 25 mm (1 in) a week in the first year',
      {
        repeats: { every: 'week', until: waterUntil > addDays(plant, 7) ? waterUntil : seasons },
        source: care,
      },
    ),
    entry(
      'weed',
      'care',
      addDays(plant, 30),
      'Weed',
      'pull what was not planted, in the first two years',
      {
        repeats: { every: 'month', until: seasons },
        source: weeding,
      },
    ),
    entry(
      'mulch',
      'care',
      later(1),
      'Renew the mulch',
      'where it is under 5 cm (2 in), and not against stems',
      {
        repeats: { every: 'year', until: seasons },
        source: care,
      },
    ),
    entry(
      'inspect',
      'check',
      addDays(plant, 182),
      'Inspect inlet, mulch, notch and berm',
      'every half year, and after a great storm: clear inlet and notch, fill washed places, rake a crust loose',
      { source: practice },
    ),
    entry(
      'inspect-year',
      'check',
      later(1),
      'Inspect inlet, mulch, notch and berm',
      'measure the depth to the sill against the drawing',
      {
        repeats: { every: 'year', until: later(5) },
        source: practice,
      },
    ),
  ];
}

/** Locates of the plan that begin after, or end before, the digging that relies on them. */
function recorded({ locates, dig }: DatesQuestion, digEnd: Day, conflicts: string[]): void {
  for (const { name, on, until } of locates) {
    if (until < digEnd) {
      conflicts.push(
        `The locate of ${name} ends on ${dayText(until)}, before digging does on ${dayText(digEnd)}: have it renewed.`,
      );
    } else if (on > dig) {
      conflicts.push(
        `The locate of ${name} is dated ${dayText(on)}, after digging begins on ${dayText(dig)}.`,
      );
    }
  }
}
