import { InputError } from '../errors';
import type { DepthTableSettings } from '../plan/storm-settings';
import { checkRising, durationName } from './depth-table';
import { delimitedRows, filled, numberIn, type TextRow } from './delimited-text';
import { refuseImpossibleDepth } from './most-rain';
import {
  askDepthUnit,
  depthUnitIn,
  depthUnitMm,
  TableQuestion,
  type TableAnswers,
} from './table-question';
import { dayMin } from '../units/units';

/** A depth-duration table as read, and what was made of it, in the user's words. */
export interface ReadDepthTable {
  readonly table: DepthTableSettings;
  readonly notes: readonly string[];
}

/**
 * Reads a table of rain depths by duration (rows) and return period (columns), or the other way about, from text.
 *
 * Headings: return periods such as `2`, `2-yr`, `T=10` or as yearly chances, `1/10` or `10%`. Durations such as `5-min:`,
 * `2 h`, `24-hr`, `2-day`. Intensities, when a heading says so, are turned into depths. The public point tables of the US
 * precipitation frequency atlas are read as they come, lines about them included.
 *
 * @param name - what to call it in messages.
 * @throws {InputError} naming the line: `depth-table-shape`, `depth-table-number`, `depth-table-order`; a
 *   `TableQuestion` where the unit of depths or durations is open.
 */
export function readDepthTable(
  text: string,
  name: string,
  answers: Pick<TableAnswers, 'depthUnit' | 'timeUnit'> = {},
): ReadDepthTable {
  const { rows, decimalComma } = delimitedRows(text, name);
  const head = rows.findIndex((row, i) => isHeading(row, rows.at(i + 1)));
  if (head === -1) {
    throw notTable(
      name,
      'no heading with return periods stands over rows that begin with a duration',
    );
  }
  const aboutIt = rows.slice(0, head + 1).map(({ cells }) => cells.join(' '));
  const notes: string[] = [];
  const unit = answers.depthUnit ?? firstOf(aboutIt, depthUnitIn);
  if (unit === null) throw askDepthUnit(name);
  const saysIntensity = aboutIt.some((line) =>
    /intensity|intensities|\b(mm|in|inch(es)?)\s*\/\s*h/i.test(line),
  );

  const body = bodyOf(rows.slice(head + 1));
  const heading = filled(rows[head].cells);
  const isTurned = hasDurationsAcross(heading, body);
  const labels = isTurned ? heading.slice(1) : body.map(({ cells }) => cells[0]);
  const periodLabels = isTurned ? body.map(({ cells }) => cells[0]) : heading.slice(1);
  const bareMin = bareUnit(labels, heading[0], name, answers);
  const durations = labels.map((label) => durationMin(label, bareMin) ?? NaN);
  labels.forEach((label, i) => {
    if (!(durations[i] >= leastMin)) {
      throw notTable(name, `'${label}' is too short a duration: ${leastMin} min is the least`);
    }
  });
  const periods = periodLabels.map((label) => periodY(label));
  periodLabels.forEach((label, i) => {
    if (!(periods[i] >= leastY && periods[i] < Infinity))
      throw notTable(name, `'${label}' is not a return period in years`);
  });
  if (periodLabels.some((label) => /[/%]/.test(label))) {
    notes.push('Its columns are yearly chances; the return period is one divided by them.');
  }
  const values = body.map((row) => valuesOf(row, heading.length, decimalComma, name));
  const asWritten = sorted({
    durations_min: durations,
    return_periods_y: periods,
    depths_mm: isTurned ? durations.map((_, d) => values.map((row) => row[d])) : values,
  });
  // Intensities fall with duration. A table about them may still hold depths, and those rise.
  const isIntensity = saysIntensity && !risesWithDuration(asWritten);
  if (isIntensity) notes.push('The table gives intensities; they were turned into depths.');
  else if (saysIntensity) {
    notes.push(
      'The table speaks of intensities, but its figures rise with duration: they were taken for depths.',
    );
  }
  const table = {
    ...asWritten,
    depths_mm: asWritten.depths_mm.map((row, d) =>
      row.map(
        (value) => value * depthUnitMm[unit] * (isIntensity ? asWritten.durations_min[d] / 60 : 1),
      ),
    ),
  };
  checkRising(table, name);
  checkDepths(table, name);
  return { table: { ...sourceIn(aboutIt, name), ...table }, notes };
}

/** The shortest duration, minutes, the shortest return period, years, and the largest depth, millimetres, of a plan. */
const leastMin = 0.1;
const leastY = 0.01;
const mostMm = 2000;

/** Whether durations stand in the heading and return periods at the side. */
function hasDurationsAcross(heading: readonly string[], body: readonly TextRow[]): boolean {
  const tops = heading.slice(1);
  if (tops.every((cell) => durationMin(cell) !== null)) return true;
  // Bare numbers at the top may be either: years at the side, or a corner that begins with them, settle it.
  const sidesAreYears = body.every(({ cells: [side] }) => /^T|y|%|\//i.test(side));
  const cornerIsYears = /^(return|period|years?\b|ari\b|aep\b|t\b)/i.test(heading[0]);
  return tops.every((cell) => /^\d+([.,]\d+)?$/.test(cell)) && (sidesAreYears || cornerIsYears);
}

/** A heading has at least one return period or duration after its first cell, and the row below it numbers. */
function isHeading(row: TextRow, below: TextRow | undefined): boolean {
  const cells = filled(row.cells);
  if (below === undefined || cells.length < 2 || below.cells.length < cells.length) return false;
  const tops = cells.slice(1);
  const isTop =
    tops.every((cell) => durationMin(cell) !== null) || tops.every((cell) => periodY(cell) > 0);
  // A row of figures is none: its first cell is a duration itself, or a bare number over more of the same.
  const isFigures = /\d/.test(row.cells[0]);
  return isTop && !isFigures && /\d/.test(below.cells[0]);
}

/** The rows of the first table: up to a line that does not begin like one. */
function bodyOf(rows: readonly TextRow[]): readonly TextRow[] {
  const end = rows.findIndex(({ cells }) => cells.length < 2 || !/^\D{0,3}\d/.test(cells[0]));
  return end === -1 ? rows : rows.slice(0, end);
}

const minutesIn: ReadonlyMap<string, number> = new Map([
  ...['min', 'mins', 'minute', 'minutes', 'm'].map((name) => [name, 1] as const),
  ...['h', 'hr', 'hrs', 'hour', 'hours'].map((name) => [name, 60] as const),
  ...['d', 'day', 'days'].map((name) => [name, dayMin] as const),
]);

/** A duration in minutes; `null` when the text is none. A bare number is one only when its unit is given. */
function durationMin(text: string, bareMin?: number): number | null {
  const [, amount, unit] = /^(\d+(?:[.,]\d+)?)[\s-]*([a-z]*)\.?:?$/i.exec(text.trim()) ?? [];
  if (amount === undefined) return null;
  const each = unit === '' ? bareMin : minutesIn.get(unit.toLowerCase());
  return each === undefined ? null : Number(amount.replace(',', '.')) * each;
}

/** A return period in years, also from a yearly chance; `NaN` when the text is none. */
function periodY(text: string): number {
  const chance = /^1\s*\/\s*(\d+(?:\.\d+)?)$/.exec(text);
  if (chance !== null) return Number(chance[1]);
  const percent = /^(\d+(?:\.\d+)?)\s*%$/.exec(text);
  if (percent !== null) return 100 / Number(percent[1]);
  const years = /^(?:T\s*=?\s*)?(\d+(?:\.\d+)?)[\s-]*(?:y|yr|yrs|year|years)?\.?$/i.exec(text);
  return years === null ? NaN : Number(years[1]);
}

/** Minutes in a duration without a unit, when there are any. */
function bareUnit(
  labels: readonly string[],
  corner: string,
  name: string,
  { timeUnit }: Pick<TableAnswers, 'timeUnit'>,
): number | undefined {
  const bare = labels.filter((label) => durationMin(label) === null);
  if (bare.length === 0) return undefined;
  const odd = bare.find((label) => durationMin(label, 1) === null);
  if (odd !== undefined)
    throw notTable(name, `'${odd}' is not a duration such as '5 min' or '24 h'`);
  const words = corner.toLowerCase();
  if (/\bmin/.test(words)) return 1;
  if (/\b(h|hr|hrs|hours?)\b/.test(words)) return 60;
  if (/\bdays?\b/.test(words)) return dayMin;
  if (timeUnit !== undefined) return timeUnit === 'min' ? 1 : 60;
  throw new TableQuestion(
    {
      code: 'depth-table-duration-unit',
      where: name,
      problem: `it does not say in what unit its durations ('${bare[0]}') are`,
      remedy: 'say whether they are minutes or hours',
    },
    'timeUnit',
    [
      { value: 'min', label: 'minutes' },
      { value: 'h', label: 'hours' },
    ],
  );
}

function valuesOf(row: TextRow, width: number, decimalComma: boolean, name: string): number[] {
  const cells = row.cells.slice(1);
  while (cells.length > width - 1 && cells[cells.length - 1] === '') cells.pop();
  if (cells.length !== width - 1) {
    throw notTable(
      `${name}, line ${row.line}`,
      `it has ${cells.length} depths under ${width - 1} headings`,
    );
  }
  return cells.map((cell) => {
    const value = numberIn(cell, decimalComma);
    if (value >= 0) return value;
    throw new InputError({
      code: 'depth-table-number',
      where: `${name}, line ${row.line}`,
      problem: `'${cell}' is not a depth of rain`,
      remedy: 'every cell needs a number that is not negative',
    });
  });
}

function sorted(table: DepthTableSettings): DepthTableSettings {
  const rows = ascending(table.durations_min);
  const columns = ascending(table.return_periods_y);
  return {
    durations_min: rows.map((row) => table.durations_min[row]),
    return_periods_y: columns.map((column) => table.return_periods_y[column]),
    depths_mm: rows.map((row) => columns.map((column) => table.depths_mm[row][column])),
  };
}

function ascending(values: readonly number[]): number[] {
  return values.map((_, i) => i).sort((a, b) => values[a] - values[b]);
}

/** Whether no figure falls with duration, and some rise. */
function risesWithDuration({ depths_mm }: DepthTableSettings): boolean {
  const steps = depths_mm
    .slice(1)
    .flatMap((row, above) => row.map((depth, column) => depth - depths_mm[above][column]));
  return steps.every((step) => step >= 0) && steps.some((step) => step > 0);
}

function checkDepths({ durations_min, depths_mm }: DepthTableSettings, name: string): void {
  durations_min.forEach((duration, row) => {
    const most = Math.max(...depths_mm[row]);
    if (most <= mostMm) {
      refuseImpossibleDepth(most, duration * 60, name);
      return;
    }
    throw new InputError({
      code: 'depth-table-number',
      where: name,
      problem: `it has ${most.toFixed(0)} mm of rain in ${durationName(duration)}, ${mostMm} at most are taken`,
      remedy: 'check the unit of its depths, or leave that row out',
    });
  });
}

/** What the table says of itself: publisher or volume, and the place. */
function sourceIn(lines: readonly string[], name: string): { source: string } {
  const title = lines.find((line) => /\batlas\b|\bvolume\b|\bversion\b/i.test(line));
  const place = lines.filter((line) => /^(latitude|longitude):/i.test(line));
  return { source: title === undefined ? name : [title, ...place].join(', ') };
}

function firstOf<T>(lines: readonly string[], read: (line: string) => T | null): T | null {
  for (const line of lines) {
    const found = read(line);
    if (found !== null) return found;
  }
  return null;
}

function notTable(where: string, problem: string): InputError {
  return new InputError({
    code: 'depth-table-shape',
    where,
    problem,
    remedy:
      "give a row for each duration and a column for each return period, such as 'duration, 2-yr, 10-yr' over '5-min, 0.4, 0.6'",
  });
}
