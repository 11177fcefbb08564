import { contains, signedAreaM2, type Ring } from '../frame/shapes';
import { decodeText } from './decode-text';
import {
  columnsOf,
  plainName,
  type FilePosition,
  type Found,
  type FoundLayer,
  type FoundPart,
  type FoundShape,
  type GivenFile,
} from './found-layer';
import { endingOf, openZip } from './open-zip';
import { readDbf } from './read-dbf';
import { stem } from './read-geojson';
import { refused } from './refused';
import { systemOfText, type FoundSystem } from './system-of';

/** First number of every `.shp`. */
export const shapefileCode = 9994;

/** The files of one layer by their endings. */
type Parts = ReadonlyMap<string, Uint8Array>;

/** Reads every shapefile in an archive. @throws {InputError} where there is none, or one is cut. */
export async function readZippedShapefiles(file: GivenFile): Promise<Found> {
  const layers = new Map<string, Map<string, Uint8Array>>();
  for (const [name, bytes] of openZip(file, ['shp', 'dbf', 'prj', 'cpg'])) {
    const key = name.replace(/\.[^.]+$/, '').toLowerCase();
    const parts = layers.get(key) ?? new Map<string, Uint8Array>();
    layers.set(key, parts.set(endingOf(name), bytes));
  }
  const notes: string[] = [];
  const found: FoundLayer[] = [];
  for (const [name, parts] of layers) {
    const shp = parts.get('shp');
    if (shp !== undefined) found.push(await layerOf(file.name, name, shp, parts, notes));
  }
  return { format: 'Shapefile', layers: found, notes };
}

/** Reads a bare `.shp` with what lies beside it. */
export async function readShapefile({ name, bytes, beside }: GivenFile): Promise<Found> {
  const notes: string[] = [];
  const layer = await layerOf(name, stem(name), bytes, beside ?? new Map(), notes);
  return { format: 'Shapefile', layers: [layer], notes };
}

async function layerOf(
  file: string,
  path: string,
  shp: Uint8Array,
  parts: Parts,
  notes: string[],
): Promise<FoundLayer> {
  const name = plainName(path, 'layer');
  const cpg = parts.get('cpg');
  const encoding = cpg === undefined ? undefined : decodeText(cpg).text.trim();
  const dbf = parts.get('dbf');
  const rows = dbf === undefined ? null : readDbf(dbf, encoding);
  if (rows === null) notes.push(`${file}, ${name}: it has no table (.dbf), so no columns`);
  const geometries = readShp(shp, file, name, notes);
  if (rows !== null && rows.length !== geometries.length) {
    notes.push(
      `${file}, ${name}: its table has ${rows.length} rows for ${geometries.length} shapes; they are matched from the first`,
    );
  }
  const shapes = geometries.map((found, i): FoundShape => ({
    parts: found,
    properties: rows?.[i] ?? {},
  }));
  return {
    file,
    name,
    columns: columnsOf(shapes),
    shapes,
    system: await systemIn(parts.get('prj'), file),
    unitM: 'of the system',
    heightUnitM: null,
  };
}

async function systemIn(prj: Uint8Array | undefined, file: string): Promise<FoundSystem> {
  const text = prj === undefined ? '' : decodeText(prj).text.trim();
  if (text !== '') return systemOfText(text, file);
  return { is: 'asked', why: 'it has no .prj to name its coordinate system', candidates: [] };
}

const headerLength = 100;

/**
 * The shapes of a `.shp`, record by record: points, lines, polygons, bundles of points, each plain or with Z or M.
 * Source: ESRI Shapefile Technical Description (1998), from memory; the tests compare it with GDAL's.
 *
 * @throws {InputError} `gather-shp` where it is cut.
 */
function readShp(bytes: Uint8Array, file: string, name: string, notes: string[]): FoundPart[][] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < headerLength || view.getInt32(0) !== shapefileCode) {
    throw refused(file, 'shp', `${name}.shp is no shapefile`, 'export the layer again');
  }
  const found: FoundPart[][] = [];
  const others = new Map<number, number>();
  let at = headerLength;
  while (at + 8 <= bytes.length) {
    const length = view.getInt32(at + 4) * 2;
    const from = at + 8;
    if (length < 4 || from + length > bytes.length) throw cut(file, name, found.length);
    const type = view.getInt32(from, true);
    const record = new DataView(bytes.buffer, bytes.byteOffset + from, length);
    try {
      const parts = partsOf(type, record);
      if (parts === null) others.set(type, (others.get(type) ?? 0) + 1);
      found.push(parts ?? []);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      throw cut(file, name, found.length, error);
    }
    at = from + length;
  }
  // The header says how long it is in words of two bytes.
  if (at < view.getInt32(24) * 2) throw cut(file, name, found.length);
  for (const [type, count] of others) {
    notes.push(`${file}, ${name}: ${count} shapes of type ${type} (surfaces) are left out`);
  }
  return found;
}

function cut(file: string, name: string, count: number, cause?: unknown): Error {
  return refused(
    file,
    'shp',
    `${name}.shp breaks off after ${count} shapes`,
    'get it again from where it came',
    cause,
  );
}

/** Parts of one record; null for types that are not read. Types 11 to 18 have Z, 21 to 28 only measures. */
function partsOf(type: number, record: DataView): FoundPart[] | null {
  const plain = type % 10;
  const hasZ = type > 10 && type < 20;
  if (type === 0) return [];
  if (plain === 1) {
    const at = [record.getFloat64(4, true), record.getFloat64(12, true)];
    if (hasZ) at.push(record.getFloat64(20, true));
    return [{ type: 'Point', coordinates: at }];
  }
  if (plain !== 3 && plain !== 5 && plain !== 8) return null;
  const isMany = plain === 8;
  const partCount = isMany ? 0 : record.getInt32(36, true);
  const count = record.getInt32(isMany ? 36 : 40, true);
  const starts = Array.from({ length: partCount }, (_, i) => record.getInt32(44 + 4 * i, true));
  const first = (isMany ? 40 : 44) + 4 * partCount;
  const firstZ = first + 16 * count + 16;
  const positions: number[][] = [];
  for (let i = 0; i < count; i++) {
    const at = [
      record.getFloat64(first + 16 * i, true),
      record.getFloat64(first + 16 * i + 8, true),
    ];
    if (hasZ) at.push(record.getFloat64(firstZ + 8 * i, true));
    positions.push(at);
  }
  if (isMany) return positions.map((at) => ({ type: 'Point', coordinates: at }));
  const runs = starts.map((start, i) => positions.slice(start, starts[i + 1] ?? count));
  if (plain === 3) return runs.map((run) => ({ type: 'LineString', coordinates: run }));
  return polygonsOf(runs).map((rings) => ({ type: 'Polygon', coordinates: rings }));
}

/** Rings as polygons: those that turn clockwise are outer ones, each other one is a hole of the smallest that holds it. */
function polygonsOf(rings: readonly FilePosition[][]): FilePosition[][][] {
  if (rings.length === 1) return [[rings[0]]];
  const measured = rings.map((ring) => ({ ring, area: signedAreaM2(asRing(ring)) }));
  const outer = measured
    .filter(({ area }) => area < 0)
    .map(({ ring, area }) => ({ rings: [ring], area: -area }));
  for (const { ring, area } of measured) {
    if (area < 0) continue;
    const around = outer
      .filter((polygon) => polygon.area > area && mostlyIn(polygon.rings[0], ring))
      .sort((a, b) => a.area - b.area)[0];
    // A ring that turns the wrong way and lies in none is an outline all the same.
    if (around === undefined) outer.push({ rings: [ring], area });
    else around.rings.push(ring);
  }
  return outer.map((polygon) => polygon.rings);
}

/** Whether most corners of a ring lie in another: it may touch that one. */
function mostlyIn(outer: readonly FilePosition[], ring: readonly FilePosition[]): boolean {
  const around = [asRing(outer)];
  return asRing(ring).filter((at) => contains(around, at)).length * 2 > ring.length;
}

function asRing(ring: readonly FilePosition[]): Ring {
  return ring.map(([x, y]) => [x, y]);
}
