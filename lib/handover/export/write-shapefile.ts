import { zipSync, type Zippable } from 'fflate';
import type { LngLat } from '../../frame/frame';
import { signedAreaM2 } from '../../frame/shapes';
import type { ExportFeature, ExportLayer } from './export-layers';
import { boxOf, type Box } from './box-of';
import { Bytes } from './write-bytes';
import { degreesWkt } from './degrees-wkt';

/** Numbers of the format for what is drawn. */
const shapeType = { Point: 1, LineString: 3, Polygon: 5 } as const;
const headerLength = 100;
/** Names of columns and lengths of cells are no longer in a dBase table. */
const longestName = 10;
const longestText = 254;
const numberWidth = 24;
const numberDecimals = 9;
/** The same file for the same plan: no day of today in it. */
const fixedDay = new Date(1980, 0, 1);

/**
 * Layers as zipped shapefiles, one for each: shapes, index, table (UTF-8) and system, in degrees (WGS 84). Names of columns are cut
 * at ten signs.
 *
 * Source: ESRI Shapefile Technical Description (1998) and dBase III tables, from memory; GDAL reads them in the tests.
 */
export function shapefilesOf(layers: readonly ExportLayer[]): Uint8Array {
  const files: Zippable = {};
  for (const layer of layers) {
    const { shp, shx } = shapesOf(layer);
    const text = new TextEncoder();
    files[`${layer.name}.shp`] = shp;
    files[`${layer.name}.shx`] = shx;
    files[`${layer.name}.dbf`] = tableOf(layer.features);
    files[`${layer.name}.prj`] = text.encode(degreesWkt);
    files[`${layer.name}.cpg`] = text.encode('UTF-8');
  }
  return zipSync(files, { mtime: fixedDay });
}

function shapesOf({ geometry, features }: ExportLayer): { shp: Uint8Array; shx: Uint8Array } {
  const type = shapeType[geometry];
  const records = features.map(({ rings }) =>
    geometry === 'Point'
      ? new Bytes().i32(type, true).f64(rings[0][0][0], true).f64(rings[0][0][1], true).done
      : lineRecord(type, geometry === 'Polygon' ? rings.map(turned) : rings),
  );
  const shp = new Bytes();
  const shx = new Bytes();
  const box = boxOf(features.flatMap(({ rings }) => rings.flat()));
  const bytes = records.reduce((sum, { length }) => sum + 8 + length, headerLength);
  head(shp, bytes, type, box);
  head(shx, headerLength + 8 * records.length, type, box);
  records.forEach((record, i) => {
    shx.i32(shp.length / 2).i32(record.length / 2);
    shp
      .i32(i + 1)
      .i32(record.length / 2)
      .put(record);
  });
  return { shp: shp.done, shx: shx.done };
}

function head(into: Bytes, bytes: number, type: number, box: Box): void {
  into
    .i32(9994)
    .fill(20)
    .i32(bytes / 2)
    .i32(1000, true)
    .i32(type, true);
  for (const side of box) into.f64(side, true);
  into.fill(32);
}

function lineRecord(type: number, rings: readonly (readonly LngLat[])[]): Uint8Array {
  const record = new Bytes().i32(type, true);
  for (const side of boxOf(rings.flat())) record.f64(side, true);
  record.i32(rings.length, true).i32(rings.flat().length, true);
  let start = 0;
  for (const ring of rings) {
    record.i32(start, true);
    start += ring.length;
  }
  for (const [lng, lat] of rings.flat()) record.f64(lng, true).f64(lat, true);
  return record.done;
}

/** Outer rings run clockwise, holes the other way: the first ring is the outer one. */
function turned(ring: readonly LngLat[], index: number): readonly LngLat[] {
  const isClockwise = signedAreaM2(ring.slice(0, -1)) < 0;
  return isClockwise === (index === 0) ? ring : [...ring].reverse();
}

interface Field {
  readonly key: string;
  readonly name: string;
  readonly type: 'C' | 'N';
  readonly width: number;
}

/** A dBase III table of the features' names and properties. */
function tableOf(features: readonly ExportFeature[]): Uint8Array {
  const rows = features.map(({ id, name, properties }): Row => ({ id, name, ...properties }));
  const fields = fieldsOf(rows);
  const rowLength = 1 + fields.reduce((sum, { width }) => sum + width, 0);
  const table = new Bytes().u8(3).u8(80).u8(1).u8(1);
  table
    .i32(rows.length, true)
    .u16(32 + 32 * fields.length + 1, true)
    .u16(rowLength, true)
    .fill(20);
  for (const { name, type, width } of fields) {
    table
      .text(name)
      .fill(11 - name.length)
      .text(type)
      .fill(4)
      .u8(width)
      .u8(type === 'N' ? numberDecimals : 0)
      .fill(14);
  }
  table.u8(0x0d);
  for (const row of rows) {
    table.text(' ');
    for (const field of fields) writeCell(table, row[field.key], field);
  }
  return table.u8(0x1a).done;
}

type Row = Readonly<Record<string, string | number | boolean>>;

function fieldsOf(rows: readonly Row[]): Field[] {
  const taken = new Set<string>();
  return [...new Set(rows.flatMap(Object.keys))].map((key) => {
    const values = rows.flatMap((row) => (key in row ? [row[key]] : []));
    const isNumber = values.every((value) => typeof value === 'number');
    const longest = Math.max(1, ...values.map((value) => utf8(String(value)).length));
    const name = freeName(key, taken);
    return isNumber
      ? { key, name, type: 'N', width: numberWidth }
      : { key, name, type: 'C', width: Math.min(longestText, longest) };
  });
}

/** A column's name of ten signs that no other has. */
function freeName(key: string, taken: Set<string>): string {
  const plain = key.replaceAll(/[^a-z0-9_]/gi, '_');
  let name = plain.slice(0, longestName);
  for (let i = 1; taken.has(name.toLowerCase()); i++) {
    name = `${plain.slice(0, longestName - String(i).length)}${i}`;
  }
  taken.add(name.toLowerCase());
  return name;
}

function writeCell(
  table: Bytes,
  value: string | number | boolean | undefined,
  { type, width }: Field,
): void {
  if (type === 'N') {
    const text = typeof value === 'number' ? value.toFixed(numberDecimals) : '';
    table.text(text.slice(0, width).padStart(width));
    return;
  }
  const bytes = cutUtf8(utf8(value === undefined ? '' : String(value)), width);
  table.put(bytes).fill(width - bytes.length, 0x20);
}

function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

/** The first bytes of a text, cut between characters. */
function cutUtf8(bytes: Uint8Array, most: number): Uint8Array {
  if (bytes.length <= most) return bytes;
  let end = most;
  while (end > 0 && (bytes[end] & 0xc0) === 0x80) end--;
  return bytes.subarray(0, end);
}
