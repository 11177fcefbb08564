import type { ZoneName } from '../basin/form/planting-zones';
import { InputError } from '../errors';
import { headedTable, type HeadedRow } from '../tables/headed-table';
import { parseLength } from '../units/parse-length';
import type { UnitSystem } from '../units/units';
import { monthNumber } from './months';
import type { Plant } from './plant';

const columns = {
  name: { names: ['name', 'species', 'plant'], needed: true },
  zone: { names: ['zone'], needed: true },
  spread: { names: ['spread', 'width'], needed: true },
  height: { names: ['height'] },
  bloom: { names: ['bloom', 'bloom from-to', 'bloom from to'] },
  sun: { names: ['sun', 'light'] },
  native: { names: ['native to', 'native'] },
  common: { names: ['common name', 'common'] },
} as const;

type Row = HeadedRow<keyof typeof columns>;

/** What people and lists call the zones. */
const zones: ReadonlyMap<string, ZoneName> = new Map(
  (
    [
      ['deep', 'deep wet base bottom 1'],
      ['middle', 'middle slope moist wet-mesic 2'],
      ['edge', 'edge rim berm dry 3'],
    ] as const
  ).flatMap(([zone, names]) => names.split(' ').map((name) => [name, zone] as const)),
);

/**
 * Reads a list of plants: name, zone (deep, middle, edge), spread, and if they are there height (`60 cm` or `2-4 ft`), bloom
 * (`Jun-Aug`), sun, native to, common name.
 *
 * @param system - for lengths without a unit.
 * @throws {InputError} naming the line: what `headedTable` and `parseLength` throw, `plant-zone`, `plant-bloom`, `plant-name`,
 *   `plant-spread`.
 */
export function readPlantList(text: string, name: string, system: UnitSystem): Plant[] {
  return headedTable(text, name, 'a list of plants', columns).map((row) => {
    const called = row.text('name');
    if (called === '') throw fault(row, 'plant-name', 'a plant has no name', 'give its name');
    return {
      name: called,
      common: row.text('common') === '' ? null : row.text('common'),
      zone: zoneOf(row),
      spreadM: spreadOf(row, system),
      heightM: heightOf(row, system),
      bloom: bloomOf(row),
      sun: row.text('sun'),
      nativeTo: row.text('native'),
      sources: null,
    };
  });
}

function zoneOf(row: Row): ZoneName {
  const written = row.text('zone').toLowerCase();
  const zone = zones.get(written);
  if (zone !== undefined) return zone;
  throw fault(row, 'plant-zone', `'${written}' is no zone of a basin`, 'use deep, middle or edge');
}

/** A plant on a lot is no narrower and no wider than this, metres: a slip of the unit else. Our choice, no source. */
const spreads = { leastM: 0.05, mostM: 15 } as const;

function spreadOf(row: Row, system: UnitSystem): number {
  const spreadM = lengthIn(row, row.text('spread'), 'spread', system);
  if (spreadM >= spreads.leastM && spreadM <= spreads.mostM) return spreadM;
  throw fault(
    row,
    'plant-spread',
    `a spread of '${row.text('spread')}' is no plant's`,
    'give it with its unit, as 45 cm or 18 in',
  );
}

/** One height, or two with a dash, the unit after the second for both. */
function heightOf(row: Row, system: UnitSystem): readonly [number, number] {
  const written = row.text('height');
  if (written === '') return [0, 0];
  const [, from, to, unit] =
    /^([\d.,]+)\s*(?:-|–|to)\s*([\d.,]+)\s*([a-z"']*)$/i.exec(written) ?? [];
  if (from === undefined) {
    const heightM = lengthIn(row, written, 'height', system);
    return [heightM, heightM];
  }
  return [
    lengthIn(row, `${from} ${unit}`, 'height', system),
    lengthIn(row, `${to} ${unit}`, 'height', system),
  ];
}

function lengthIn(row: Row, text: string, field: string, system: UnitSystem): number {
  try {
    return parseLength(text.trim(), system, { field });
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError({ ...error.toProblem(), where: row.where }, { cause: error });
  }
}

function bloomOf(row: Row): Plant['bloom'] {
  const written = row.text('bloom');
  if (written === '' || written === '-' || written === '–') return null;
  const [first, last = first] = written.split(/\s*(?:-|–|to)\s*/i);
  const months = [monthNumber(first), monthNumber(last)];
  if (months[0] !== null && months[1] !== null) return [months[0], months[1]];
  throw fault(
    row,
    'plant-bloom',
    `'${written}' are no months of bloom`,
    'write them as Jun-Aug or 6-8, or leave the cell empty',
  );
}

function fault(row: Row, code: string, problem: string, remedy: string): InputError {
  return new InputError({ code, where: row.where, problem, remedy });
}
