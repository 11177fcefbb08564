import { InputError } from '../errors';
import { spreadRepeatedHours } from './clock-change';
import { delimitedRows, filled, numberIn, type TextRow, type TextTable } from './delimited-text';
import { dayComesFirst, isDated, timeFormOf, timeS, type TimeForm } from './reading-time';
import {
  askDepthUnit,
  depthUnitIn,
  depthUnitMm,
  TableQuestion,
  type TableAnswers,
  type TableChoice,
} from './table-question';
import { dayS, hourS } from '../units/units';

/** Readings of one rain gauge in the order of their times, none twice. */
export interface RainReadings {
  /** Seconds from a fixed moment. */
  readonly timesS: Float64Array;
  /** Millimetres as read, or millimetres an hour when `isRate`; `NaN` for one that is missing. */
  readonly depthsMm: Float64Array;
  /** Line of each in the text. */
  readonly lines: Int32Array;
  readonly isRate: boolean;
  /** Whether times are days or moments of a calendar. */
  readonly isDated: boolean;
  /** What the heading says of the depths' form; `null` when it is silent. */
  readonly saysForm: 'each-step' | 'running-total' | null;
  readonly notes: readonly string[];
}

/** Written for a reading that is missing. A trace of rain counts as none. */
const missing = /^(|na|n\/a|nan|null|none|m|-|--|-99(\.0)?|-999(\.\d*)?|-9999(\.\d*)?)$/i;
const trace = /^(t|tr|trace)$/i;
const depthWords = /rain|precip|prcp|\bppt\b|depth/i;

/**
 * Reads times and depths of rain from a text table. A column of times and one of depths are found by their heading or,
 * where there is none, by their place.
 *
 * @throws {InputError} naming line and cell: `rain-no-columns`, `rain-row-long`, `rain-decimal-comma`, `rain-time`,
 *   `rain-depth`, `rain-time-twice`; a `TableQuestion` for what the table leaves open.
 * Cost: linear in characters, and a sort where lines are out of order.
 */
export function rainReadings(text: string, name: string, answers: TableAnswers = {}): RainReadings {
  const table = delimitedRows(text, name);
  const { decimalComma } = table;
  const { heading, body } = partsOf(table, name);
  refuseLongRows(heading ?? body[0].cells, body, table, name);
  if (table.separator === ',') refuseCutNumbers(heading, body, name);
  const time = timeColumn(heading, body, name, answers);
  const depth = depthColumn(heading, body, time.columns, name, answers, decimalComma);
  const title = heading?.[depth] ?? '';
  const unit = answers.depthUnit ?? depthUnitIn(title);
  if (unit === null) throw askDepthUnit(name, isDated(time.form));

  const chosen = ofStation(body, time, answers, name);
  const timesS = new Float64Array(chosen.length);
  const depthsMm = new Float64Array(chosen.length);
  chosen.forEach((row, i) => {
    timesS[i] = time.read(row);
    if (Number.isNaN(timesS[i])) throw badTime(name, row, time.columns);
    depthsMm[i] = depthIn(row, depth, decimalComma, name) * depthUnitMm[unit];
  });
  const notes: string[] = [];
  if (time.form === 'clock' && passMidnight(timesS)) {
    notes.push('Its times of day pass midnight; what follows is taken to be the next day.');
  }
  if (isDated(time.form)) {
    const repeated = spreadRepeatedHours(timesS);
    if (repeated > 0) {
      notes.push(
        `Its clocks were set back ${repeated === 1 ? 'once' : `${repeated} times`}: both hours of the same name are kept, one after the other.`,
      );
    }
  }
  const order = sortedOrder(timesS);
  if (order !== null) {
    notes.push('Its lines are not in the order of their times; they were sorted.');
  }
  const at = (i: number): number => (order === null ? i : order[i]);
  for (let i = 1; i < chosen.length; i++) {
    if (timesS[at(i)] !== timesS[at(i - 1)]) continue;
    throw new InputError({
      code: 'rain-time-twice',
      where: `${name}, line ${chosen[at(i)].line}`,
      problem: `line ${chosen[at(i - 1)].line} has the same time`,
      remedy: 'keep one line for each time',
    });
  }
  return {
    timesS: timesS.map((_, i) => timesS[at(i)]),
    depthsMm: depthsMm.map((_, i) => depthsMm[at(i)]),
    lines: Int32Array.from(chosen, (_, i) => chosen[at(i)].line),
    isRate: /\/\s*h|per hour|mmh|intensity|_per_h/i.test(title),
    isDated: isDated(time.form),
    saysForm: /cum(?!\p{L})|cumul|accum|running/iu.test(title)
      ? 'running-total'
      : /increment|\beach\b|interval/i.test(title.replace(/_/g, ' '))
        ? 'each-step'
        : null,
    notes,
  };
}

/** The heading and the rows of readings. A heading is the line over the first that holds a time and a number. */
function partsOf(
  { rows, decimalComma }: TextTable,
  name: string,
): { heading: readonly string[] | null; body: readonly TextRow[] } {
  const first = rows.findIndex(
    ({ cells }) =>
      cells.length >= 2 &&
      cells.some(
        (cell, time) =>
          timeFormOf(cell) !== null &&
          cells.some((other, depth) => depth !== time && isReading(other, decimalComma)),
      ),
  );
  if (first === -1) {
    throw noColumns(name, 'no line of it has a time and a depth of rain');
  }
  const above = rows.at(first - 1);
  const heading = first > 0 && above !== undefined && above.cells.length >= 2 ? above.cells : null;
  return { heading, body: rows.slice(first) };
}

/** A cell more than the heading has was cut in two, most often at a decimal comma; which one cannot be told. */
function refuseLongRows(
  heading: readonly string[],
  body: readonly TextRow[],
  { separator }: TextTable,
  name: string,
): void {
  // Headings of several words are cut by blanks where their rows are not.
  if (separator === ' ') return;
  const width = filled(heading).length;
  const long = body.find(({ cells }) => filled(cells).length > width);
  if (long === undefined) return;
  throw new InputError({
    code: 'rain-row-long',
    where: `${name}, line ${long.line}`,
    problem: `it has ${filled(long.cells).length} cells, and there ${width === 1 ? 'is 1 column' : `are ${width} columns`}`,
    remedy:
      separator === ','
        ? 'put numbers with a decimal comma in quotes, or set cells apart by semicolons'
        : 'give each column a heading',
  });
}

/**
 * Whole numbers beside whole numbers may be the halves of decimals where no heading, or one that was cut before its
 * unit, says otherwise. Two columns are a time and a depth.
 */
function refuseCutNumbers(
  heading: readonly string[] | null,
  body: readonly TextRow[],
  name: string,
): void {
  const [{ line, cells }] = body;
  if (filled(cells).length < 3) return;
  const areWhole = (column: number): boolean =>
    body.every((row) => /^\d+$/.test(row.cells.at(column) ?? ''));
  const isCut = (left: number): boolean =>
    heading === null ||
    (depthWords.test(heading[left]) && /^\W*(mm|cm|in)\W*$/i.test(heading.at(left + 1) ?? ''));
  const beside = cells.findIndex(
    (_, left) => left > 0 && isCut(left - 1) && areWhole(left - 1) && areWhole(left),
  );
  if (beside === -1) return;
  throw new InputError({
    code: 'rain-decimal-comma',
    where: `${name}, line ${line}`,
    problem: `'${cells[beside - 1]},${cells[beside]}' may be one number with a decimal comma or two numbers`,
    remedy:
      'put numbers with a decimal comma in quotes or set cells apart by semicolons; else give each column a heading',
  });
}

function isReading(cell: string, decimalComma: boolean): boolean {
  return !Number.isNaN(numberIn(cell, decimalComma)) || missing.test(cell) || trace.test(cell);
}

interface TimeColumns {
  readonly columns: readonly number[];
  readonly form: TimeForm;
  read(row: TextRow): number;
}

function timeColumn(
  heading: readonly string[] | null,
  body: readonly TextRow[],
  name: string,
  answers: TableAnswers,
): TimeColumns {
  const first = body[0].cells;
  const forms = first.map(timeFormOf);
  const named = (column: number): boolean =>
    /date|time|stamp|elapsed|\bmin|\bhours?\b|\bday\b/i.test(
      (heading?.[column] ?? '').replace(/_/g, ' '),
    );
  const dated = forms.findIndex((form) => form !== null && isDated(form) && form !== 'compact');
  const compactDay = forms.findIndex((form, column) => form === 'compact' && named(column));
  const day = dated === -1 ? compactDay : dated;
  if (day !== -1) {
    const form = forms[day] as TimeForm;
    const column = body.map(({ cells }) => cells.at(day) ?? '');
    const dayFirst = form === 'slashed' && dayComesFirst(column, name, answers);
    // A day in one column and the time of day in another.
    const hasClock = first[day].includes(':');
    const beside = hasClock ? -1 : forms.findIndex((each, i) => each === 'clock' && i !== day);
    return {
      columns: beside === -1 ? [day] : [day, beside],
      form,
      read: ({ cells }) =>
        timeS(cells.at(day) ?? '', form, dayFirst, 1) +
        (beside === -1 ? 0 : timeS(cells.at(beside) ?? '', 'clock', false, 1)),
    };
  }
  const clockColumn = forms.indexOf('clock');
  if (clockColumn !== -1) {
    return {
      columns: [clockColumn],
      form: 'clock',
      read: ({ cells }) => timeS(cells.at(clockColumn) ?? '', 'clock', false, 1),
    };
  }
  const byName = forms.findIndex((form, column) => form !== null && named(column));
  const column = byName !== -1 ? byName : heading === null && forms[0] !== null ? 0 : -1;
  if (column === -1) throw noColumns(name, 'none of its columns is headed as a time');
  const numberS = plainTimeS(heading?.[column] ?? '', name, answers);
  return {
    columns: [column],
    form: 'number',
    read: ({ cells }) => timeS(cells.at(column) ?? '', 'number', false, numberS),
  };
}

/** Seconds in one of a column of plain numbers. */
function plainTimeS(title: string, name: string, { timeUnit }: TableAnswers): number {
  const words = title.toLowerCase().replace(/[_()[\]]/g, ' ');
  if (/\bmin(ute)?s?\b/.test(words)) return 60;
  if (/\b(h|hrs?|hours?)\b/.test(words)) return hourS;
  if (/\b(s|sec|seconds?)\b/.test(words)) return 1;
  if (/\bdays?\b/.test(words)) return dayS;
  if (timeUnit !== undefined) return timeUnit === 'min' ? 60 : hourS;
  throw new TableQuestion(
    {
      code: 'rain-time-unit',
      where: name,
      problem: 'its times are plain numbers, and it does not say of what',
      remedy: 'say whether they are minutes or hours',
    },
    'timeUnit',
    [
      { value: 'min', label: 'minutes' },
      { value: 'h', label: 'hours' },
    ],
  );
}

function depthColumn(
  heading: readonly string[] | null,
  body: readonly TextRow[],
  times: readonly number[],
  name: string,
  { depthColumn: asked }: TableAnswers,
  decimalComma: boolean,
): number {
  const sample = body.slice(0, 50);
  const numeric = body[0].cells
    .map((_, column) => column)
    .filter(
      (column) =>
        !times.includes(column) &&
        sample.every(({ cells }) => isReading(cells.at(column) ?? '', decimalComma)) &&
        // Commas at the ends of lines make a column without anything in it.
        body.some(({ cells }) => !missing.test(cells.at(column) ?? '')),
    );
  const title = (column: number): string => heading?.[column] ?? `column ${column + 1}`;
  if (asked !== undefined) {
    const found = numeric.find((column) => title(column) === asked);
    if (found !== undefined) return found;
    throw noColumns(name, `it has no column of numbers headed '${asked}'`);
  }
  const rain = numeric.filter((column) => depthWords.test(title(column)));
  if (rain.length === 1) return rain[0];
  if (numeric.length === 1) return numeric[0];
  if (numeric.length === 0) throw noColumns(name, 'none of its columns holds depths of rain');
  const choices = (rain.length > 1 ? rain : numeric).map((column) => title(column));
  throw new TableQuestion(
    {
      code: 'rain-column',
      where: name,
      problem: `the rain may be in any of its columns ${choices.join(', ')}`,
      remedy: 'say which one holds it',
    },
    'depthColumn',
    choices.map((choice) => ({ value: choice, label: choice })),
  );
}

/** The rows of one gauge, where the table holds several. */
function ofStation(
  body: readonly TextRow[],
  time: TimeColumns,
  { station }: TableAnswers,
  name: string,
): readonly TextRow[] {
  const seen = new Set<number>();
  const isTwice = body.some((row) => {
    const at = time.read(row);
    const known = seen.has(at);
    seen.add(at);
    return known;
  });
  if (!isTwice) return body;
  const column = stationColumn(body, time);
  if (column === null) return body;
  if (station !== undefined) {
    const found = body.filter(({ cells }) => cells.at(column.index) === station);
    if (found.length > 0) return found;
  }
  const choices: TableChoice[] = column.values.map((value) => ({ value, label: value }));
  throw new TableQuestion(
    {
      code: 'rain-station',
      where: name,
      problem: `it holds ${column.values.length} stations: ${column.values.slice(0, 6).join(', ')}`,
      remedy: 'say which one to take',
    },
    'station',
    choices,
  );
}

/** What clocks show, winter and summer: a column of these tells repeated hours apart, not stations. */
const clockName = /^([A-Z][SD]T|AK[SD]T|[CEW]ES?T|GMT|UTC)$/;

/** As many stations as a list can offer. */
const mostStations = 200;

/** The column of words that tells rows of the same time apart. */
function stationColumn(
  body: readonly TextRow[],
  time: TimeColumns,
): { readonly index: number; readonly values: readonly string[] } | null {
  for (let index = 0; index < body[0].cells.length; index++) {
    if (time.columns.includes(index)) continue;
    const values = new Set<string>();
    const pairs = new Set<string>();
    for (const row of body) {
      const value = row.cells.at(index) ?? '';
      values.add(value);
      pairs.add(`${value}\n${time.read(row)}`);
      if (values.size > mostStations) break;
    }
    const isName =
      [...values].every((value) => /[a-z]/i.test(value) && !missing.test(value)) &&
      ![...values].every((value) => clockName.test(value));
    if (isName && values.size > 1 && values.size <= mostStations && pairs.size === body.length) {
      return { index, values: [...values].sort() };
    }
  }
  return null;
}

function depthIn(row: TextRow, column: number, decimalComma: boolean, name: string): number {
  const cell = row.cells.at(column) ?? '';
  if (missing.test(cell)) return NaN;
  if (trace.test(cell)) return 0;
  const value = numberIn(cell, decimalComma);
  if (value >= 0) return value;
  throw new InputError({
    code: 'rain-depth',
    where: `${name}, line ${row.line}`,
    problem: `'${cell}' is not a depth of rain`,
    remedy: 'write a number that is not negative, or leave the cell empty where it is missing',
  });
}

/**
 * Adds a day after each fall of more than half a day among times of day without a date, in place. Where any falls by
 * less the lines are out of order, and all stay as they are. Returns whether midnight was passed.
 */
function passMidnight(timesS: Float64Array): boolean {
  const falls = timesS.map((time, i) => (i === 0 ? 0 : timesS[i - 1] - time));
  if (!falls.some((fall) => fall > 0) || falls.some((fall) => fall > 0 && fall <= halfDayS)) {
    return false;
  }
  let daysS = 0;
  falls.forEach((fall, i) => {
    if (fall > 0) daysS += 2 * halfDayS;
    timesS[i] += daysS;
  });
  return true;
}

const halfDayS = 43_200;

/** The order that sorts times, `null` when they are sorted. */
function sortedOrder(timesS: Float64Array): Int32Array | null {
  if (timesS.every((time, i) => i === 0 || time >= timesS[i - 1])) return null;
  return Int32Array.from(timesS, (_, i) => i).sort((a, b) => timesS[a] - timesS[b] || a - b);
}

function badTime(name: string, row: TextRow, columns: readonly number[]): InputError {
  const cells = columns.map((column) => row.cells.at(column) ?? '').join(' ');
  return new InputError({
    code: 'rain-time',
    where: `${name}, line ${row.line}`,
    problem: `'${cells}' is not a time like the others`,
    remedy: 'write times like 2024-05-01 14:05, or as minutes from the beginning',
  });
}

function noColumns(name: string, problem: string): InputError {
  return new InputError({
    code: 'rain-no-columns',
    where: name,
    problem,
    remedy: "give a heading such as 'time, rain_mm' and below it a line for each reading",
  });
}
