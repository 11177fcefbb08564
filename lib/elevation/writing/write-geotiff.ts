import { expectOf, InputError } from '../../errors';
import type { Grid } from '../grid';
import type { WrittenSystem } from '../system/written-system';

export interface WriteGeoTiffOptions {
  /**
   * EPSG code of the projected system that `grid.frame.projection` describes. Without one and without `system` the
   * grid must lie in a `localFrame`, whose transverse Mercator projection is then written out in full.
   */
  readonly epsg?: number;
  /** The same as the file writes it that the grid was read from: whatever could be read can be written so. */
  readonly system?: WrittenSystem;
  /** Whether the values are heights; else no vertical unit is stated. True when not given. */
  readonly heights?: boolean;
  readonly compress?: 'deflate' | 'none';
  /** Side of a tile in cells, a multiple of 16 (TIFF 6.0, section 15). */
  readonly tileSize?: 128 | 256;
  /** What stands in the file for no data. */
  readonly nodata?: number;
  /** One line on what the raster is, kept as GDAL keeps a band's description. */
  readonly description?: string;
  /** What the heights are measured in, kept as GDAL keeps a band's unit. */
  readonly unitDescription?: string;
}

/** TIFF field types (TIFF 6.0, section 2) by number, with their sizes in bytes. */
const short = 3;
const long = 4;
const ascii = 2;
const double = 12;
const bytesOf: Readonly<Record<number, number>> = {
  [short]: 2,
  [long]: 4,
  [ascii]: 1,
  [double]: 8,
};

interface Entry {
  readonly tag: number;
  readonly type: number;
  readonly values: readonly number[];
}

/**
 * A grid's elevations as the bytes of a GeoTIFF: 32-bit floats in tiles, deflated after the floating-point
 * predictor unless told otherwise, cells as areas, heights in metres above the source's vertical datum.
 *
 * Sources: TIFF 6.0 (Adobe, 1992) for the layout and tags; Adobe Photoshop TIFF Technical Note 3 (2005) for
 * predictor 3; OGC 19-008r4 (GeoTIFF 1.1) for the keys; tags 42112 and 42113 as GDAL writes them. All from memory,
 * and read back by independent readers in the tests.
 *
 * Cost: linear; holds the raster about three times over.
 */
export async function writeGeoTiff(
  grid: Grid,
  options: WriteGeoTiffOptions,
): Promise<Uint8Array<ArrayBuffer>> {
  const { compress = 'deflate', tileSize = 256, nodata = -9999 } = options;
  const { description, unitDescription = 'metre' } = options;
  expectOf(grid.width > 0 && grid.height > 0 && grid.z.length === grid.width * grid.height, {
    code: 'raster-size',
    where: 'raster',
    problem: `${grid.z.length} values are given for ${grid.width} by ${grid.height} cells`,
    remedy: 'give one value for each cell, row by row',
  });
  const keys = geoKeys(grid, options);

  const across = Math.ceil(grid.width / tileSize);
  const down = Math.ceil(grid.height / tileSize);
  const tiles: Uint8Array[] = [];
  for (let row = 0; row < down; row++) {
    for (let column = 0; column < across; column++) {
      const cells = tileCells(grid, column * tileSize, row * tileSize, tileSize, nodata);
      tiles.push(
        compress === 'deflate' ? await deflate(predicted(cells, tileSize)) : plainBytes(cells),
      );
    }
  }

  const { frame, cellM } = grid;
  const unitFactor = options.system?.unitFactor ?? 1;
  const cell = cellM / frame.metresPerUnit / unitFactor;
  const west = (frame.originEast + grid.westM / frame.metresPerUnit) / unitFactor;
  const north = (frame.originNorth + grid.northM / frame.metresPerUnit) / unitFactor;
  const entries: Entry[] = [
    { tag: 256, type: long, values: [grid.width] },
    { tag: 257, type: long, values: [grid.height] },
    { tag: 258, type: short, values: [32] }, // bits per sample
    { tag: 259, type: short, values: [compress === 'deflate' ? 8 : 1] },
    { tag: 262, type: short, values: [1] }, // black is zero
    { tag: 277, type: short, values: [1] }, // samples per pixel
    { tag: 284, type: short, values: [1] }, // one plane
    ...(compress === 'deflate' ? [{ tag: 317, type: short, values: [3] }] : []), // predictor
    { tag: 322, type: short, values: [tileSize] },
    { tag: 323, type: short, values: [tileSize] },
    { tag: 324, type: long, values: tiles.map(() => 0) }, // offsets, set below
    { tag: 325, type: long, values: tiles.map((tile) => tile.length) },
    { tag: 339, type: short, values: [3] }, // floating point
    { tag: 33_550, type: double, values: [cell, cell, 0] }, // pixel scale
    { tag: 33_922, type: double, values: [0, 0, 0, west, north, 0] }, // tie point
    { tag: 34_735, type: short, values: keys.directory },
    ...(keys.doubles.length > 0 ? [{ tag: 34_736, type: double, values: keys.doubles }] : []),
    ...(keys.text === '' ? [] : [text(34_737, keys.text)]),
    text(42_112, gdalMetadata(description, unitDescription)),
    text(42_113, String(nodata)),
  ];
  return assemble(entries, tiles);
}

/** Key numbers of GeoTIFF 1.1. */
const key = {
  modelType: 1024,
  rasterType: 1025,
  geographicSystem: 2048,
  projectedSystem: 3072,
  projection: 3074,
  method: 3075,
  linearUnit: 3076,
  originLongitude: 3080,
  originLatitude: 3081,
  falseEasting: 3082,
  falseNorthing: 3083,
  scaleAtOrigin: 3092,
  verticalUnit: 4099,
} as const;
const userDefined = 32_767;
/** EPSG codes: WGS 84, and the metre. */
const wgs84 = 4326;
const metre = 9001;

/** The key directory (each key, where its value is, how many, value or place), and the doubles and text it points to. */
interface Keys {
  readonly directory: readonly number[];
  readonly doubles: readonly number[];
  readonly text: string;
}

function geoKeys(grid: Grid, { epsg, system, heights = true }: WriteGeoTiffOptions): Keys {
  const { keys, doubles, text } = system ?? ownKeys(grid, epsg);
  const entries = [
    ...keys,
    inPlace(key.rasterType, 1), // a cell is an area
    ...(heights ? [inPlace(key.verticalUnit, metre)] : []),
  ].sort((a, b) => a[0] - b[0]);
  return { directory: [1, 1, 0, entries.length, ...entries.flat()], doubles, text };
}

function inPlace(number: number, value: number): readonly number[] {
  return [number, 0, 1, value];
}

/** Keys for a system by its code, or for the transverse Mercator projection of a local frame. */
function ownKeys(
  { frame }: Grid,
  epsg: number | undefined,
): Pick<WrittenSystem, 'keys' | 'doubles' | 'text'> {
  const projected = inPlace(key.modelType, 1);
  if (epsg !== undefined) {
    expectOf(epsg > 0 && epsg < 65_536 && Number.isInteger(epsg), {
      code: 'raster-epsg',
      where: 'raster',
      problem: `${epsg} is no EPSG code that a GeoTIFF can hold`,
      remedy: 'give a whole number from 1 to 65535, or the definition of the system',
    });
    return { keys: [projected, inPlace(key.projectedSystem, epsg)], doubles: [], text: '' };
  }
  const origin =
    /^\+proj=tmerc \+lat_0=(\S+) \+lon_0=(\S+) \+k=1 \+x_0=0 \+y_0=0 \+datum=WGS84/.exec(
      frame.projection,
    );
  if (origin === null) {
    throw new InputError({
      code: 'raster-system',
      where: 'raster',
      problem: 'it does not lie in a local frame, and its coordinate system is not given',
      remedy: 'give its EPSG code, or the definition of the system',
    });
  }
  const byPlace: readonly (readonly [number: number, value: number])[] = [
    [key.originLongitude, Number(origin[2])],
    [key.originLatitude, Number(origin[1])],
    [key.falseEasting, 0],
    [key.falseNorthing, 0],
    [key.scaleAtOrigin, 1],
  ];
  return {
    keys: [
      projected,
      inPlace(key.geographicSystem, wgs84),
      inPlace(key.projectedSystem, userDefined),
      inPlace(key.projection, userDefined),
      inPlace(key.method, 1), // transverse Mercator
      inPlace(key.linearUnit, metre),
      ...byPlace.map(([number], place) => [number, 34_736, 1, place]),
    ],
    doubles: byPlace.map(([, value]) => value),
    text: '',
  };
}

function gdalMetadata(description: string | undefined, unit: string): string {
  const item = (name: string, value: string) =>
    `<Item name="${name}" sample="0" role="${name.toLowerCase()}">${escaped(value)}</Item>`;
  const items = [
    ...(description === undefined ? [] : [item('DESCRIPTION', description)]),
    item('UNITTYPE', unit),
  ];
  return `<GDALMetadata>${items.join('')}</GDALMetadata>`;
}

function escaped(value: string): string {
  return value.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

function text(tag: number, value: string): Entry {
  return { tag, type: ascii, values: [...new TextEncoder().encode(`${value}\0`)] };
}

/** Elevations of one tile; past the grid's edge and where there is no data, `nodata`. */
function tileCells(
  grid: Grid,
  left: number,
  top: number,
  tileSize: number,
  nodata: number,
): Float32Array {
  const cells = new Float32Array(tileSize * tileSize).fill(nodata);
  const right = Math.min(left + tileSize, grid.width);
  const bottom = Math.min(top + tileSize, grid.height);
  for (let row = top; row < bottom; row++) {
    for (let column = left; column < right; column++) {
      const z = grid.z[row * grid.width + column];
      if (!Number.isNaN(z)) cells[(row - top) * tileSize + column - left] = grid.datumM + z;
    }
  }
  return cells;
}

function plainBytes(cells: Float32Array): Uint8Array {
  const bytes = new Uint8Array(cells.length * 4);
  const view = new DataView(bytes.buffer);
  cells.forEach((value, i) => {
    view.setFloat32(i * 4, value, true);
  });
  return bytes;
}

/**
 * Predictor 3, row by row: all highest bytes first, then all second ones, and so on; then each byte as its
 * difference from the one before.
 */
function predicted(cells: Float32Array, rowLength: number): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(cells.length * 4);
  const view = new DataView(new ArrayBuffer(4));
  for (let start = 0; start < cells.length; start += rowLength) {
    const at = start * 4;
    for (let i = 0; i < rowLength; i++) {
      view.setFloat32(0, cells[start + i], false);
      for (let plane = 0; plane < 4; plane++) {
        bytes[at + plane * rowLength + i] = view.getUint8(plane);
      }
    }
    for (let i = rowLength * 4 - 1; i > 0; i--) bytes[at + i] -= bytes[at + i - 1];
  }
  return bytes;
}

/** Compression 8 is zlib's format, which this stream calls 'deflate'. */
async function deflate(bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array> {
  const stream = new Blob([bytes]).stream().pipeThrough(new CompressionStream('deflate'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** Header, directory, values too long for it, tiles. Little-endian, classic TIFF. */
function assemble(
  entries: readonly Entry[],
  tiles: readonly Uint8Array[],
): Uint8Array<ArrayBuffer> {
  const directoryAt = 8;
  const longAt = directoryAt + 2 + entries.length * 12 + 4;
  const sizeOf = (entry: Entry) => entry.values.length * bytesOf[entry.type];
  const longBytes = entries.reduce((sum, entry) => sum + spilled(sizeOf(entry)), 0);
  const tilesAt = longAt + longBytes;
  const size = tiles.reduce((sum, tile) => sum + even(tile.length), tilesAt);
  expectOf(size < 2 ** 32, {
    code: 'raster-size',
    where: 'raster',
    problem: 'it comes to more than 4 GiB, which a classic TIFF cannot hold',
    remedy: 'write it in parts',
  });

  const bytes = new Uint8Array(size);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, 0x4949, true);
  view.setUint16(2, 42, true);
  view.setUint32(4, directoryAt, true);
  const offsets: number[] = [];
  let tileAt = tilesAt;
  for (const tile of tiles) {
    bytes.set(tile, tileAt);
    offsets.push(tileAt);
    tileAt += even(tile.length);
  }

  view.setUint16(directoryAt, entries.length, true);
  let nextLong = longAt;
  entries.forEach((entry, i) => {
    const at = directoryAt + 2 + i * 12;
    view.setUint16(at, entry.tag, true);
    view.setUint16(at + 2, entry.type, true);
    view.setUint32(at + 4, entry.values.length, true);
    let valueAt = at + 8;
    if (sizeOf(entry) > 4) {
      view.setUint32(valueAt, nextLong, true);
      valueAt = nextLong;
      nextLong += spilled(sizeOf(entry));
    }
    putValues(view, valueAt, entry.tag === 324 ? { ...entry, values: offsets } : entry);
  });
  return bytes;
}

function putValues(view: DataView, start: number, { type, values }: Entry): void {
  values.forEach((value, i) => {
    const at = start + i * bytesOf[type];
    if (type === ascii) view.setUint8(at, value);
    else if (type === short) view.setUint16(at, value, true);
    else if (type === long) view.setUint32(at, value, true);
    else view.setFloat64(at, value, true);
  });
}

/** Bytes that a value takes outside the directory. */
function spilled(size: number): number {
  return size > 4 ? even(size) : 0;
}

/** TIFF puts values on even bytes. */
function even(size: number): number {
  return size + (size % 2);
}
