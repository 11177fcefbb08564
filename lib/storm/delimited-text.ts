import { InputError } from '../errors';

/** A line of a text table, cut into cells. */
export interface TextRow {
  /** Counted from 1, as an editor shows it. */
  readonly line: number;
  readonly cells: readonly string[];
}

/** A text table: CSV, or cells set apart by semicolons, tabs or blanks. */
export interface TextTable {
  readonly rows: readonly TextRow[];
  /** What sets cells apart: a comma, a semicolon, a tab, or a blank for any number of them. */
  readonly separator: string;
  /** Whether numbers have a comma for their decimals. */
  readonly decimalComma: boolean;
}

/** No rain table that a lot needs is as long; a larger file is something else. */
const mostCharacters = 100_000_000;

/**
 * Cuts a text table into rows. Empty lines and lines that begin with `#` are left out; quotes around a cell are taken
 * off.
 *
 * @param separatorFor - what sets cells apart, from the lines.
 * @throws {InputError} `table-empty`, `table-not-text`, `table-too-long`.
 */
export function delimitedRows(
  text: string,
  name: string,
  separatorFor: (lines: readonly string[]) => string = separatorOf,
): TextTable {
  if (text.length > mostCharacters) {
    throw new InputError({
      code: 'table-too-long',
      where: name,
      problem: `it has ${(text.length / 1e6).toFixed(0)} million characters, 100 million at most are read`,
      remedy: 'cut out the years that you need',
    });
  }
  if (text.includes('\0')) {
    throw new InputError({
      code: 'table-not-text',
      where: name,
      problem: 'it is not text',
      remedy: 'save the table as CSV',
    });
  }
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
  const kept = lines
    .map((content, i) => ({ line: i + 1, content: withoutBlanks(content) }))
    .filter(({ content }) => content.trim() !== '' && !content.startsWith('#'));
  if (kept.length === 0) {
    throw new InputError({
      code: 'table-empty',
      where: name,
      problem: 'there is nothing in it',
      remedy: 'paste or open a table with a heading and rows of numbers',
    });
  }
  const separator = separatorFor(kept.map(({ content }) => content));
  const rows = kept.map(({ line, content }) => ({ line, cells: cellsOf(content, separator) }));
  // Between commas a number with one is in quotes, and a comma before three figures may part thousands.
  const comma = separator === ',' ? /^-?\d+,(?!\d{3}$)\d+$/ : /^-?\d+,\d+$/;
  const decimalComma = rows.some(({ cells }) => cells.some((cell) => comma.test(cell)));
  return { rows, separator, decimalComma };
}

/** Cells without the empty ones that a spreadsheet leaves at the ends of its lines. */
export function filled(cells: readonly string[]): readonly string[] {
  return cells.slice(0, cells.findLastIndex((cell) => cell !== '') + 1);
}

/** A line without blanks about it. Tabs stay: a table copied from a spreadsheet may begin with an empty cell. */
function withoutBlanks(line: string): string {
  return line.includes('\t') ? line.replace(/^[^\S\t]+|[^\S\t]+$/g, '') : line.trim();
}

/** What sets cells apart: that which cuts the most lines on end into equally many, the tab before the comma where they tie. */
function separatorOf(lines: readonly string[]): string {
  const sample = lines.slice(0, 200);
  let best = ' ';
  let longest = 0;
  for (const separator of ['\t', ';', ',', ' ']) {
    const cut = sample.map((line) => cellsOf(line, separator));
    // Numbers that stand in one cell beside each other were set apart by blanks, and have decimal commas.
    if (separator === ',' && cut.some((cells) => cells.some((cell) => /^\d+ +\d+$/.test(cell)))) {
      continue;
    }
    // A heading may have as many words as its rows have a date and a time of day, though commas set cells apart.
    if (separator === ' ' && sample.some((line) => /:\d\d,/.test(line))) continue;
    const run = longestRun(cut.map(({ length }) => length));
    if (run > longest) {
      longest = run;
      best = separator;
    }
  }
  return best;
}

/** Lines on end with the same number of cells, two at least. */
function longestRun(counts: readonly number[]): number {
  let longest = 0;
  let run = 0;
  counts.forEach((count, i) => {
    run = count < 2 ? 0 : count === counts[i - 1] ? run + 1 : 1;
    longest = Math.max(longest, run);
  });
  return longest;
}

function cellsOf(line: string, separator: string): string[] {
  if (separator === ' ') return line.trim().split(/\s+/);
  if (!line.includes('"')) return line.split(separator).map((cell) => cell.trim());
  const cells: string[] = [];
  let cell = '';
  let isQuoted = false;
  for (let i = 0; i < line.length; i++) {
    const character = line[i];
    if (character === '"' && isQuoted && line[i + 1] === '"') {
      cell += '"';
      i++;
    } else if (character === '"') isQuoted = !isQuoted;
    else if (character === separator && !isQuoted) {
      cells.push(cell.trim());
      cell = '';
    } else cell += character;
  }
  cells.push(cell.trim());
  return cells;
}

/** A cell as a number; `NaN` when it is none. */
export function numberIn(cell: string, decimalComma: boolean): number {
  const plain = decimalComma ? cell.replace(',', '.') : cell;
  return /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(plain) ? Number(plain) : NaN;
}
