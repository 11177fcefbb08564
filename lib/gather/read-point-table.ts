import { delimitedRows, numberIn } from '../storm/delimited-text';
import { decodeText } from './decode-text';
import {
  columnsOf,
  plainText,
  type Cell,
  type Found,
  type FoundShape,
  type GivenFile,
} from './found-layer';
import { stem } from './read-geojson';
import { refused } from './refused';
import { worldDegrees, type FoundSystem } from './system-of';
import { wordsOf } from './words-of';

/** Headings of east and north, pair by pair, the surest first. */
const pairs: readonly (readonly [east: RegExp, north: RegExp, degrees: boolean])[] = [
  [
    /^(lng|lon|long|longitude)\b|\b(lng|lon|longitude)$/,
    /^(lat|latitude)\b|\b(lat|latitude)$/,
    true,
  ],
  [/^easting\b|\beasting$/, /^northing\b|\bnorthing$/, false],
  [
    /^(x|x coord(inate)?|coord x|point x|pos x)$/,
    /^(y|y coord(inate)?|coord y|point y|pos y)$/,
    false,
  ],
  [/^(e|east)$/, /^(n|north)$/, false],
];

/**
 * Reads a table of points: CSV with a heading line, cells set apart by commas, semicolons, tabs or blanks, numbers with
 * points or commas. Which columns are coordinates is told by their headings; their unit is taken to be their system's
 * unless another is given.
 *
 * @throws {InputError} `gather-table` where no two columns are coordinates; see also {@link delimitedRows}.
 */
export function readPointTable({ name: file, bytes }: GivenFile): Found {
  const { text, guessed } = decodeText(bytes);
  const { rows, decimalComma } = delimitedRows(text, file);
  const headings = rows[0].cells.map((heading, i) =>
    heading === '' ? `column ${i + 1}` : plainText(heading),
  );
  const words = headings.map(wordsOf);
  const found = pairs
    .map(([east, north, degrees]) => ({
      east: words.findIndex((word) => east.test(word)),
      north: words.findIndex((word) => north.test(word)),
      degrees,
    }))
    .find(({ east, north }) => east >= 0 && north >= 0);
  if (found === undefined) {
    throw refused(
      file,
      'table',
      `no two of its columns (${headings.slice(0, 8).join(', ')}) are called coordinates`,
      'head them longitude and latitude, or easting and northing',
    );
  }
  const shapes = rows.slice(1).map(({ cells }): FoundShape => {
    const at = [found.east, found.north].map((i) => numberIn(cells[i] ?? '', decimalComma));
    const properties: Record<string, Cell> = {};
    headings.forEach((heading, i) => {
      const value = numberIn(cells[i] ?? '', decimalComma);
      properties[heading] = Number.isFinite(value) ? value : (cells[i] ?? null);
    });
    const parts = at.every(Number.isFinite) ? [{ type: 'Point' as const, coordinates: at }] : [];
    return { parts, properties };
  });
  const named = `${headings[found.east]} and ${headings[found.north]}`;
  const system: FoundSystem = found.degrees
    ? worldDegrees
    : {
        is: 'asked',
        why: `its columns ${named} are coordinates of a system that a table cannot name`,
        candidates: [],
      };
  const notes = [
    ...(found.degrees ? [`${file}: ${named} are taken to be degrees on WGS 84`] : []),
    ...(guessed === null ? [] : [`${file}: it is not UTF-8, and is read as ${guessed}`]),
  ];
  return {
    format: 'CSV',
    notes,
    layers: [
      {
        file,
        name: stem(file),
        columns: columnsOf(shapes),
        shapes,
        system,
        unitM: 'of the system',
        heightUnitM: null,
      },
    ],
  };
}
