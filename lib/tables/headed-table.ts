import { InputError } from '../errors';
import { delimitedRows, numberIn } from '../storm/delimited-text';

/** A column that a table may have. */
export interface Column {
  /** Names that its heading may have, in lower case, the usual one first. */
  readonly names: readonly string[];
  /** Whether the table is of no use without it. */
  readonly needed?: boolean;
}

/** A line of a table whose columns are known by their headings. */
export interface HeadedRow<K extends string> {
  /** The file and line, for sentences about it. */
  readonly where: string;
  /** A cell as written; empty where the table has no such column. */
  readonly text: (column: K) => string;
  /** @returns the number, `null` for an empty cell. @throws {InputError} `table-not-a-number`. */
  readonly number: (column: K) => number | null;
}

/**
 * Reads a table of a user's own by its headings, in any order and case; columns that are not known are left alone.
 *
 * @param what - as sentences call it: 'a price list'.
 * @throws {InputError} `table-headings` naming what is missing and what was found, and what `delimitedRows` throws.
 */
export function headedTable<K extends string>(
  text: string,
  name: string,
  what: string,
  columns: Readonly<Record<K, Column>>,
): HeadedRow<K>[] {
  const { rows, decimalComma } = delimitedRows(text, name, headingSeparator);
  const [heading, ...body] = rows;
  const found = heading.cells.map(plain);
  const places = new Map<K, number>();
  const missing: string[] = [];
  const entries = Object.entries<Column>(columns) as [K, Column][];
  for (const [key, { names, needed }] of entries) {
    const place = found.findIndex((each) => names.includes(each));
    if (place !== -1) places.set(key, place);
    else if (needed === true) missing.push(`'${names[0]}'`);
  }
  if (missing.length > 0) {
    throw new InputError({
      code: 'table-headings',
      where: `${name}, line ${heading.line}`,
      problem: `${what} has no column ${missing.join(', ')}; its headings are ${heading.cells.map((cell) => `'${shortened(cell)}'`).join(', ')}`,
      remedy: `name its columns ${entries.map(([, { names, needed }]) => (needed === true ? names[0] : `[${names[0]}]`)).join(', ')}, those in brackets if you like`,
    });
  }
  return body.map(({ line, cells }) => {
    const where = `${name}, line ${line}`;
    const cellOf = (column: K): string => cells[places.get(column) ?? -1] ?? '';
    return {
      where,
      text: cellOf,
      number(column) {
        const cell = cellOf(column);
        if (cell === '') return null;
        const value = numberIn(cell, decimalComma);
        if (!Number.isNaN(value)) return value;
        throw new InputError({
          code: 'table-not-a-number',
          where,
          problem: `'${shortened(cell)}' under '${columns[column].names[0]}' is no number`,
          remedy: 'write it in figures alone',
        });
      },
    };
  });
}

/** What sets cells apart: that which the heading has most of. Its words may have blanks, and rows fewer cells. */
function headingSeparator([heading]: readonly string[]): string {
  const times = (separator: string): number => heading.split(separator).length;
  return ['\t', ';', ','].reduce((best, each) => (times(each) > times(best) ? each : best));
}

/** A heading without case, brackets and doubled blanks. */
function plain(heading: string): string {
  return heading
    .toLowerCase()
    .replaceAll(/[_\s]+/g, ' ')
    .trim();
}

function shortened(cell: string): string {
  return cell.length > 40 ? `${cell.slice(0, 40)}…` : cell;
}
