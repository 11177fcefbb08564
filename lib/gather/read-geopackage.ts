import { InputError } from '../errors';
import {
  asCell,
  columnsOf,
  plainName,
  type Found,
  type FoundLayer,
  type FoundPart,
  type FoundShape,
  type GivenFile,
} from './found-layer';
import { partsInWkb } from './read-wkb';
import { refused } from './refused';
import { openSqlite, type SqliteTable, type Stored } from './sqlite-file';
import { systemOfCode, systemOfText, type FoundSystem } from './system-of';

/**
 * Reads the feature tables of a GeoPackage, a layer each. Source: OGC 12-128r18, from memory; the tests compare it with
 * GDAL's reading.
 *
 * @throws {InputError} `gather-geopackage` where it is another database, cut or damaged.
 */
export async function readGeoPackage({ name: file, bytes }: GivenFile): Promise<Found> {
  const notes: string[] = [];
  try {
    const table = openSqlite(bytes);
    const geometries = table('gpkg_geometry_columns');
    if (geometries === null) {
      throw refused(
        file,
        'geopackage',
        'it is a database, but no GeoPackage',
        'export its layers as GeoPackage or GeoJSON',
      );
    }
    const systems = table('gpkg_spatial_ref_sys');
    const layers: FoundLayer[] = [];
    for (const row of asRecords(geometries)) {
      const features = table(String(row.table_name));
      if (features === null) continue;
      const name = plainName(String(row.table_name), 'layer');
      const shapes = asRecords(features).map((record) =>
        shapeOf(record, String(row.column_name), `${file}, ${name}`, notes),
      );
      layers.push({
        file,
        name,
        columns: columnsOf(shapes),
        shapes,
        system: await systemIn(systems, row.srs_id, file),
        unitM: 'of the system',
        heightUnitM: null,
      });
    }
    // The file says in its header that the last changes may lie in a file of their own.
    if (bytes[18] === 2) {
      notes.push(
        `${file}: changes that lie in a file beside it (-wal) are not read: close it where it is open`,
      );
    }
    return { format: 'GeoPackage', layers, notes: [...new Set(notes)] };
  } catch (cause) {
    if (!(cause instanceof RangeError)) throw cause;
    throw refused(
      file,
      'geopackage',
      'the database is cut or damaged',
      'get it again from where it came',
      cause,
    );
  }
}

type RowRecord = Readonly<Record<string, Stored>>;

function asRecords({ columns, rows }: SqliteTable): RowRecord[] {
  return rows.map((row) => Object.fromEntries(columns.map((name, i) => [name, row[i] ?? null])));
}

function shapeOf(record: RowRecord, column: string, where: string, notes: string[]): FoundShape {
  const { [column]: geometry, ...others } = record;
  const properties = Object.fromEntries(
    Object.entries(others)
      .filter(([, value]) => !(value instanceof Uint8Array))
      .map(([name, value]) => [name, asCell(value)]),
  );
  const parts = geometry instanceof Uint8Array ? partsInBlob(geometry) : [];
  if (parts === null)
    notes.push(`${where}: curves, surfaces and what is in no standard form are left out`);
  return { parts: parts ?? [], properties };
}

/** Lengths of the box around a geometry by the number that its flags give. */
const boxLengths = [0, 32, 48, 48, 64];

/** A geometry as the format stores it: two letters, version, flags, system, a box, well-known binary. */
function partsInBlob(blob: Uint8Array): FoundPart[] | null {
  const box = boxLengths[(blob[3] >> 1) & 7];
  if (blob[0] !== 0x47 || blob[1] !== 0x50 || box === undefined) return null;
  return partsInWkb(blob.subarray(8 + box));
}

async function systemIn(
  systems: SqliteTable | null,
  id: Stored | undefined,
  file: string,
): Promise<FoundSystem> {
  const row = systems === null ? undefined : asRecords(systems).find(({ srs_id }) => srs_id === id);
  const organisation = String(row?.organization ?? '').toUpperCase();
  if (organisation === 'EPSG') {
    try {
      return await systemOfCode(Number(row?.organization_coordsys_id), file);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
    }
  }
  const text = String(row?.definition ?? '');
  if (/\[/.test(text)) return systemOfText(text, file);
  return { is: 'asked', why: 'its coordinate system is not named', candidates: [] };
}
