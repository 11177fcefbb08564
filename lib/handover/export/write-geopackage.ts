import type { ExportFeature, ExportLayer, ExportValue } from './export-layers';
import { degreesWkt } from './degrees-wkt';
import { boxOf } from './box-of';
import { Bytes } from './write-bytes';
import { sqliteFile, type SqliteEntry, type StoredValue } from './write-sqlite';

/** 'GPKG', and version 1.3. */
const header = { applicationId: 0x47504b47, userVersion: 10_300 };
const wgs84 = 4326;
/** The same file for the same plan: no time of today in it. */
const fixedTime = '1980-01-01T00:00:00.000Z';
const wkbType = { Point: 1, LineString: 2, Polygon: 3 } as const;

const systemsSql =
  'CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER NOT NULL PRIMARY KEY, organization TEXT NOT NULL, organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT)';
const contentsSql =
  "CREATE TABLE gpkg_contents (table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE, description TEXT DEFAULT '', last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')), min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER, CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id))";
const columnsSql =
  'CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL, geometry_type_name TEXT NOT NULL, srs_id INTEGER NOT NULL, z TINYINT NOT NULL, m TINYINT NOT NULL, CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name), CONSTRAINT uk_gc_table_name UNIQUE (table_name), CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name), CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id))';

/**
 * Layers as a GeoPackage, a feature table each, in degrees (WGS 84).
 *
 * Source: OGC 12-128r18 from memory; GDAL reads it in the tests.
 */
export function geoPackageOf(layers: readonly ExportLayer[]): Uint8Array {
  const names = layers.map(({ name }) => name);
  // names are ASCII, so that the order of their bytes is that of their signs
  const sorted = names
    .map((name, i) => ({ name, rowId: i + 1 }))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
  const byName = sorted.map(({ name, rowId }) => [name, rowId] as const);
  const index = (
    table: string,
    number: number,
    keys: typeof byName | readonly (readonly [string, string, number])[],
  ): SqliteEntry => ({
    type: 'index',
    name: `sqlite_autoindex_${table}_${number}`,
    table,
    keys,
  });
  return sqliteFile(
    [
      { type: 'table', name: 'gpkg_spatial_ref_sys', sql: systemsSql, rows: systems },
      {
        type: 'table',
        name: 'gpkg_contents',
        sql: contentsSql,
        rows: layers.map(({ name, features }, i) => [
          i + 1,
          name,
          'features',
          name,
          '',
          fixedTime,
          ...boxOf(features.flatMap(({ rings }) => rings.flat())),
          wgs84,
        ]),
      },
      index('gpkg_contents', 1, byName),
      index('gpkg_contents', 2, byName),
      {
        type: 'table',
        name: 'gpkg_geometry_columns',
        sql: columnsSql,
        rows: layers.map(({ name, geometry }, i) => [
          i + 1,
          name,
          'geom',
          geometry.toUpperCase(),
          wgs84,
          0,
          0,
        ]),
      },
      index(
        'gpkg_geometry_columns',
        1,
        sorted.map(({ name, rowId }) => [name, 'geom', rowId] as const),
      ),
      index('gpkg_geometry_columns', 2, byName),
      ...layers.map(featureTable),
    ],
    header,
  );
}

const systems: readonly (readonly [number, ...StoredValue[]])[] = [
  [-1, 'Undefined Cartesian', null, 'NONE', -1, 'undefined', null],
  [0, 'Undefined geographic', null, 'NONE', 0, 'undefined', null],
  [wgs84, 'WGS 84 geodetic', null, 'EPSG', wgs84, degreesWkt, 'longitude/latitude, WGS 84'],
];

function featureTable({ name, geometry, features }: ExportLayer): SqliteEntry {
  const columns = propertyColumns(features);
  const sql = [
    'fid INTEGER NOT NULL PRIMARY KEY',
    `geom ${geometry.toUpperCase()}`,
    'id TEXT',
    'name TEXT',
    ...columns.map(({ column, type }) => `"${column}" ${type}`),
  ];
  return {
    type: 'table',
    name,
    sql: `CREATE TABLE "${name}" (${sql.join(', ')})`,
    rows: features.map((feature, i) => [
      i + 1,
      null,
      blobOf(feature, geometry),
      feature.id,
      feature.name,
      ...columns.map(({ key, type }) => storedOf(feature.properties[key], type)),
    ]),
  };
}

type ColumnType = 'DOUBLE' | 'BOOLEAN' | 'TEXT';

interface PropertyColumn {
  readonly key: string;
  readonly column: string;
  readonly type: ColumnType;
}

function propertyColumns(features: readonly ExportFeature[]): PropertyColumn[] {
  const taken = new Set(['fid', 'geom', 'id', 'name']);
  const keys = [...new Set(features.flatMap(({ properties }) => Object.keys(properties)))];
  return keys.map((key) => {
    const plain = key.replaceAll(/[^a-z0-9_]/gi, '_');
    let column = plain;
    for (let i = 2; taken.has(column.toLowerCase()); i++) column = `${plain}_${i}`;
    taken.add(column.toLowerCase());
    const values = features.flatMap(({ properties }) =>
      key in properties ? [properties[key]] : [],
    );
    return { key, column, type: typeOf(values) };
  });
}

function typeOf(values: readonly ExportValue[]): ColumnType {
  if (values.every((value) => typeof value === 'number')) return 'DOUBLE';
  return values.every((value) => typeof value === 'boolean') ? 'BOOLEAN' : 'TEXT';
}

function storedOf(value: ExportValue | undefined, type: ColumnType): StoredValue {
  if (value === undefined) return null;
  if (type === 'TEXT') return String(value);
  return typeof value === 'boolean' ? Number(value) : value;
}

/** A geometry as the format stores it: little end first, with its box, as well-known binary. */
function blobOf({ rings }: ExportFeature, geometry: ExportLayer['geometry']): Uint8Array {
  const isPoint = geometry === 'Point';
  const blob = new Bytes()
    .text('GP')
    .u8(0)
    .u8(isPoint ? 1 : 3)
    .i32(wgs84, true);
  if (!isPoint) {
    const [west, south, east, north] = boxOf(rings.flat());
    for (const side of [west, east, south, north]) blob.f64(side, true);
  }
  blob.u8(1).i32(wkbType[geometry], true);
  if (geometry === 'Polygon') blob.i32(rings.length, true);
  for (const ring of rings) {
    if (!isPoint) blob.i32(ring.length, true);
    for (const [lng, lat] of ring) blob.f64(lng, true).f64(lat, true);
  }
  return blob.done;
}
