import { GeoTIFF, type GeoTIFFImage } from 'geotiff';
import { Cancelled, InputError, throwIfCancelled } from '../../errors';
import type { LngLat } from '../../frame/frame';
import { blobBytes } from '../bytes/blob-bytes';
import { type ByteReader, CachedBytes } from '../bytes/byte-source';
import { type CoordinateSystem, coordinateSystem, type GeoKeys } from '../system/coordinate-system';
import { inUnits, readGeoreference } from '../system/georeference';
import { nodeFileBytes } from '../bytes/node-file';
import { info, type Note, warning } from '../note';
import { groundCellM, makeMapping, type Mapping, type Raster } from './raster';
import { readMaskLayout, readTiffLayout } from './tiff-layout';
import { urlBytes } from '../bytes/url-bytes';
import { type VerticalUnit, verticalUnit } from '../system/vertical-unit';

/** A raster by the user's name for it: a chosen file, a web address, or (outside the browser) a path. */
export type ElevationSource =
  | { readonly name: string; readonly blob: Blob }
  | { readonly name: string; readonly url: string }
  | { readonly name: string; readonly path: string };

/** What a file says of itself, as plain data that can be shown, stored and sent to another thread. */
export interface ElevationDescription {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly bands: number;
  /** For example `32-bit float`. */
  readonly numbers: string;
  readonly system: CoordinateSystem;
  readonly vertical: VerticalUnit;
  /** The value that marks cells without data, as written in the file, or null. */
  readonly nodata: number | null;
  readonly bounds: {
    readonly west: number;
    readonly south: number;
    readonly east: number;
    readonly north: number;
  };
  /** The corners in order: first column and row, then along the first row, and round. */
  readonly corners: readonly [LngLat, LngLat, LngLat, LngLat];
  /** True ground metres of a cell along a row and along a column, in the middle of the raster. */
  readonly cellM: { readonly alongRow: number; readonly alongColumn: number };
  /**
   * The day on which the file was written, where it says so (TIFF tag 306, from memory): its heights were measured no later,
   * often years earlier.
   */
  readonly writtenOn: string | null;
  /** Questions that the file leaves open and that must be answered before its heights mean anything. */
  readonly needs: readonly 'vertical-unit'[];
  readonly notes: readonly Note[];
}

/** An open elevation file. The description is plain data; the raster is the handle for reading windows. */
export interface ElevationFile {
  readonly description: ElevationDescription;
  readonly raster: Raster;
}

/** Images beyond this one in a file are not looked at: overviews, and masks of them. */
const IMAGES_LOOKED_AT = 16;

/**
 * Opens a GeoTIFF of elevations by reading its headers only, and says what it is.
 *
 * @param source - a blob of any size is read in parts; an address is read by range requests, or as a whole
 *   where the server knows no ranges and the file is at most 200 MB; a path works outside the browser only.
 * @throws {InputError} one sentence for whatever cannot be used as elevations: not a TIFF, damaged, a
 *   picture, without place or coordinate system, in a system that cannot be worked out, packed in a way
 *   that cannot be read or only at a huge cost. @throws {Cancelled}
 */
export async function openElevation(
  source: ElevationSource,
  options: { readonly signal?: AbortSignal } = {},
): Promise<ElevationFile> {
  const { signal } = options;
  throwIfCancelled(signal);
  const { name } = source;
  const reader = await bytesOf(source, signal);
  await refuseOtherFormats(reader, name);
  const bytes = new CachedBytes({ name, bytes: reader });
  const { image, tiff } = await firstImage(bytes, name, signal);
  return damagedUnlessSaid(name, signal, async () => {
    const layout = await readTiffLayout(image, name);
    const keys: GeoKeys = image.getGeoKeys() ?? {};
    const written = await readGeoreference(image, keys.GTRasterTypeGeoKey, name);
    const system = await coordinateSystem(keys, name);
    const place = inUnits(written, system.unitFactor);
    const mapping = makeMapping(place, system, layout.width);
    const outline = outlineOf(mapping, layout.width, layout.height, name);
    const band = ((await image.getGDALMetadata(0)) ?? {}) as Readonly<Record<string, string>>;
    const raster: Raster = {
      name,
      bytes,
      image,
      layout,
      mask: await maskOf(tiff, layout.width, layout.height, name),
      place,
      system,
      nodata: noDataValue(image.fileDirectory.getValue('GDAL_NODATA')),
      scale: finite(band.SCALE, 1),
      offset: finite(band.OFFSET, 0),
      mapping,
    };
    const vertical = await verticalUnit(keys, band.UNITTYPE, system.unitM);
    const writtenOn = dayOf(
      image.fileDirectory.hasTag('DateTime')
        ? await image.fileDirectory.loadValue('DateTime')
        : null,
    );
    return { description: { ...describe(raster, vertical, outline), writtenOn }, raster };
  });
}

async function bytesOf(
  source: ElevationSource,
  signal: AbortSignal | undefined,
): Promise<ByteReader> {
  if ('blob' in source) return blobBytes(source.blob);
  if ('url' in source) return urlBytes(source.url, signal);
  return nodeFileBytes(source.path);
}

/** First bytes of files that are taken for elevation now and then, and what they are. */
const OTHER_FORMATS: readonly (readonly [RegExp, string])[] = [
  [/^PK/, 'it is a zip archive, not a GeoTIFF'],
  [/^\x89PNG|^\xff\xd8\xff/, 'it is a picture (PNG or JPEG), not a GeoTIFF'],
  [/^ncols/i, 'it is a text grid, not a GeoTIFF'],
  [/^LASF/, 'it is a cloud of lidar points, not a raster'],
  [/^\s*<(!doctype|html)/i, 'it is a web page, not a GeoTIFF'],
];

/** Looks at the first bytes: what is not a TIFF is named for what it is, where that can be told. */
async function refuseOtherFormats(reader: ByteReader, name: string): Promise<void> {
  const head = new Uint8Array(await reader.read(0, 16));
  const text = String.fromCharCode(...head);
  if (/^(II[*+]\0|MM\0[*+])/.test(text)) {
    if (head.length === 16) return;
  }
  if (head.length > 0 && head.length < 16 && /^(II|MM)/.test(text)) {
    throw new InputError({
      code: 'elevation-truncated',
      where: name,
      problem: `the file ends after ${head.length} bytes: it is cut short`,
      remedy: 'download it again',
    });
  }
  const known = OTHER_FORMATS.find(([pattern]) => pattern.test(text));
  const what =
    head.length === 0
      ? 'the file is empty'
      : (known?.[1] ?? 'it is not a GeoTIFF (its first bytes say otherwise)');
  throw new InputError({
    code: 'elevation-not-tiff',
    where: name,
    problem: what,
    remedy: 'choose a GeoTIFF of elevations (.tif), unpacked',
  });
}

async function firstImage(
  bytes: CachedBytes,
  name: string,
  signal: AbortSignal | undefined,
): Promise<{ image: GeoTIFFImage; tiff: GeoTIFF }> {
  return damagedUnlessSaid(name, signal, async () => {
    // The library's base class is not exported; its shape is all that is called.
    const source: unknown = bytes;
    const tiff = await GeoTIFF.fromSource(source as Parameters<typeof GeoTIFF.fromSource>[0]);
    return { image: await tiff.getImage(0), tiff };
  });
}

/** Runs a step over the file's structure; what fails without a sentence of its own is damage. */
async function damagedUnlessSaid<T>(
  name: string,
  signal: AbortSignal | undefined,
  step: () => Promise<T>,
): Promise<T> {
  try {
    return await step();
  } catch (cause) {
    if (signal?.aborted === true) throw new Cancelled();
    if (cause instanceof InputError || cause instanceof Cancelled) throw cause;
    throw new InputError(
      {
        code: 'elevation-damaged',
        where: name,
        problem: 'its header cannot be read as that of a GeoTIFF: it is cut short or damaged',
        remedy: 'download it again',
      },
      { cause },
    );
  }
}

/** The full-size mask among the file's further images, if there is one. */
async function maskOf(
  tiff: GeoTIFF,
  width: number,
  height: number,
  name: string,
): Promise<Raster['mask']> {
  for (let i = 1; i < IMAGES_LOOKED_AT; i++) {
    const image = await tiff.getImage(i).catch(() => null);
    if (image === null) return null;
    const type = image.fileDirectory.getValue('NewSubfileType') ?? 0;
    const isMask = (type & 4) !== 0 && (type & 1) === 0;
    if (isMask && image.getWidth() === width && image.getHeight() === height) {
      return { image, layout: await readMaskLayout(image, name) };
    }
  }
  return null;
}

/** Corners and bounding box on the globe; the sides are followed, since they may bulge. */
export function outlineOf(
  mapping: Mapping,
  width: number,
  height: number,
  name: string,
): Pick<ElevationDescription, 'corners' | 'bounds'> {
  const corners = [
    mapping.toLngLat([0, 0]),
    mapping.toLngLat([width, 0]),
    mapping.toLngLat([width, height]),
    mapping.toLngLat([0, height]),
  ] as const;
  const along: LngLat[] = [];
  const steps = 8;
  for (let i = 0; i <= steps; i++) {
    const [x, y] = [(width * i) / steps, (height * i) / steps];
    along.push(mapping.toLngLat([x, 0]), mapping.toLngLat([x, height]));
    along.push(mapping.toLngLat([0, y]), mapping.toLngLat([width, y]));
  }
  const lngs = along.map(([lng]) => lng);
  const lats = along.map(([, lat]) => lat);
  const bounds = {
    west: Math.min(...lngs),
    south: Math.min(...lats),
    east: Math.max(...lngs),
    north: Math.max(...lats),
  };
  if (!(
    bounds.south >= -90.01 &&
    bounds.north <= 90.01 &&
    Number.isFinite(bounds.west + bounds.east)
  )) {
    throw new InputError({
      code: 'elevation-place-impossible',
      where: name,
      problem: 'its coordinates do not fit its coordinate system: it would lie off the globe',
      remedy: 'check which system the file really is in, and write that into it with a GIS',
    });
  }
  return { corners, bounds };
}

/** What is told of a raster, but for its age. */
export function describe(
  raster: Raster,
  vertical: VerticalUnit,
  outline: Pick<ElevationDescription, 'corners' | 'bounds'>,
): Omit<ElevationDescription, 'writtenOn'> {
  const { layout, system, name, nodata, mapping } = raster;
  const [alongRow, alongColumn] = groundCellM(mapping, layout.width / 2, layout.height / 2);
  const notes: Note[] = [];
  if (layout.bands > 1) {
    notes.push(
      info(
        'several-bands',
        `The file holds ${layout.bands} bands; the first is read as the heights.`,
      ),
    );
  }
  if (system.shiftAccuracyM !== null) {
    notes.push(
      info(
        'datum-shift',
        `The map place comes through a shift from an older datum, good to about ${system.shiftAccuracyM} m; distances within the lot are not affected.`,
      ),
    );
  }
  if (vertical.known === 'assumed') {
    notes.push(
      info(
        'vertical-unit-assumed',
        'The file does not say in what unit its heights are; metres are assumed.',
      ),
    );
  }
  if (vertical.known === 'ask') {
    notes.push(
      warning(
        'vertical-unit-unknown',
        'The map is in feet and the file does not say whether its heights are in feet or metres. Choose the unit.',
      ),
    );
  }
  return {
    name,
    width: layout.width,
    height: layout.height,
    bands: layout.bands,
    numbers: `${layout.bits}-bit ${layout.sample === 'float' ? 'float' : 'integer'}`,
    system,
    vertical,
    nodata,
    ...outline,
    cellM: { alongRow, alongColumn },
    needs: vertical.known === 'ask' ? ['vertical-unit'] : [],
    notes,
  };
}

/** The day of a TIFF's date and time, `2019:04:30 12:00:00`; null for what is none. */
function dayOf(text: unknown): string | null {
  const parts = typeof text === 'string' ? /^(\d{4})[:-](\d\d)[:-](\d\d)/.exec(text) : null;
  if (parts === null) return null;
  const day = parts.slice(1).join('-');
  const time = Date.parse(`${day}T00:00:00Z`);
  return Number.isNaN(time) || !new Date(time).toISOString().startsWith(day) ? null : day;
}

function noDataValue(text: unknown): number | null {
  if (typeof text !== 'string') return null;
  const trimmed = text.replaceAll('\0', '').trim();
  if (trimmed === '') return null;
  return /^[-+]?nan$/i.test(trimmed) ? Number.NaN : Number(trimmed);
}

function finite(text: string | undefined, otherwise: number): number {
  const value = text === undefined ? Number.NaN : Number(text);
  return Number.isFinite(value) ? value : otherwise;
}
