import { GeoTIFF, type GeoTIFFImage } from 'geotiff';
import { Cancelled, InputError, throwIfCancelled } from '../../errors';
import type { LngLat } from '../../frame/frame';
import { type Area, areaPoints } from '../window/area';
import { blobBytes } from '../bytes/blob-bytes';
import { CachedBytes } from '../bytes/byte-source';
import { coordinateSystem, type GeoKeys } from '../system/coordinate-system';
import { inUnits, readGeoreference } from '../system/georeference';
import { makeMapping, type Mapping } from '../file/raster';

/** A piece of a photograph of the ground, placed. */
export interface Photo {
  readonly width: number;
  readonly height: number;
  /** Red, green, blue, opacity for each pixel, row by row from the first. */
  readonly data: Uint8ClampedArray<ArrayBuffer>;
  /** Of the piece: first column and row, then along the first row, and round. */
  readonly corners: readonly [LngLat, LngLat, LngLat, LngLat];
  readonly systemName: string;
}

/** Reduced images of a file that are looked at. */
const mostLevels = 16;
/** Pixels of one level that are unpacked for a piece: more would fill the memory of a small machine. Our choice. */
const mostUnpacked = 64e6;

/**
 * Reads the piece of a photograph (a GeoTIFF in colours) that covers an area, no larger than a sheet can show: from the
 * reduced image that is just large enough, where the file has some.
 *
 * @param mostPx - longest side of the piece, pixels.
 * @returns null where the file has one band, as elevations have.
 * @throws {InputError} `photo-…`, and what `readGeoreference` and `coordinateSystem` throw. @throws {Cancelled}
 */
export async function readPhoto(
  { name, blob }: { readonly name: string; readonly blob: Blob },
  area: Area | null,
  mostPx: number,
  signal: AbortSignal,
): Promise<Photo | null> {
  try {
    throwIfCancelled(signal);
    // The library's base class is not exported; its shape is all that is called.
    const source: unknown = new CachedBytes({ name, bytes: blobBytes(blob) });
    const tiff = await GeoTIFF.fromSource(source as Parameters<typeof GeoTIFF.fromSource>[0]);
    const whole = await tiff.getImage(0);
    if (whole.getSamplesPerPixel() < 3) return null;
    const keys: GeoKeys = whole.getGeoKeys() ?? {};
    const written = await readGeoreference(whole, keys.GTRasterTypeGeoKey, name);
    const system = await coordinateSystem(keys, name);
    const place = inUnits(written, system.unitFactor);
    const mapping = makeMapping(place, system, whole.getWidth());
    const piece = pieceOf(name, whole, area, mapping);
    return {
      ...(await unpacked(name, tiff, piece, mostPx, signal)),
      ...placed(piece, mapping),
      systemName: system.name,
    };
  } catch (cause) {
    if (signal.aborted) throw new Cancelled();
    if (cause instanceof InputError || cause instanceof Cancelled) throw cause;
    throw new InputError(
      {
        code: 'photo-damaged',
        where: name,
        problem: 'it cannot be unpacked: it is damaged, or packed in a way that is not known here',
        remedy: 'save it again as a GeoTIFF, with JPEG, LZW or deflate',
      },
      { cause },
    );
  }
}

/** Columns and rows of the whole image. */
interface Piece {
  readonly wholeWidth: number;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

function pieceOf(name: string, whole: GeoTIFFImage, area: Area | null, mapping: Mapping): Piece {
  const [width, height] = [whole.getWidth(), whole.getHeight()];
  if (area === null) return { wholeWidth: width, left: 0, top: 0, right: width, bottom: height };
  const pixels = areaPoints(area).map((at) => mapping.toPixel(at));
  const [columns, rows] = [pixels.map(([column]) => column), pixels.map(([, row]) => row)];
  const piece = {
    wholeWidth: width,
    left: Math.max(0, Math.floor(Math.min(...columns))),
    top: Math.max(0, Math.floor(Math.min(...rows))),
    right: Math.min(width, Math.ceil(Math.max(...columns))),
    bottom: Math.min(height, Math.ceil(Math.max(...rows))),
  };
  if (piece.right > piece.left && piece.bottom > piece.top) return piece;
  throw new InputError({
    code: 'photo-not-covering',
    where: name,
    problem: 'it does not reach the ground on the sheet',
    remedy: 'open the photograph of this place',
  });
}

function placed({ left, top, right, bottom }: Piece, mapping: Mapping): Pick<Photo, 'corners'> {
  return {
    corners: [
      mapping.toLngLat([left, top]),
      mapping.toLngLat([right, top]),
      mapping.toLngLat([right, bottom]),
      mapping.toLngLat([left, bottom]),
    ],
  };
}

async function unpacked(
  name: string,
  tiff: GeoTIFF,
  piece: Piece,
  mostPx: number,
  signal: AbortSignal,
): Promise<Pick<Photo, 'width' | 'height' | 'data'>> {
  const { wholeWidth, left, top, right, bottom } = piece;
  const scale = Math.min(1, mostPx / Math.max(right - left, bottom - top));
  const level = await levelFor(tiff, wholeWidth * scale);
  const perWhole = level.getWidth() / wholeWidth;
  const window = [
    Math.floor(left * perWhole),
    Math.floor(top * perWhole),
    Math.min(level.getWidth(), Math.ceil(right * perWhole)),
    Math.min(level.getHeight(), Math.ceil(bottom * perWhole)),
  ];
  const [columns, rows] = [window[2] - window[0], window[3] - window[1]];
  if (columns * rows > mostUnpacked) {
    throw new InputError({
      code: 'photo-large',
      where: name,
      problem: `${columns} by ${rows} pixels would have to be unpacked, for it has no smaller images in it`,
      remedy: 'add overviews to it in a GIS, or cut out the surroundings of the lot',
    });
  }
  const width = Math.max(1, Math.round((right - left) * scale));
  const height = Math.max(1, Math.round((bottom - top) * scale));
  const colours = await level.readRGB({ window, width, height, interleave: true, signal });
  return { width, height, data: opaque(colours, width * height) };
}

/** The smallest image of the file that is at least so wide; the whole one where there is none. */
async function levelFor(tiff: GeoTIFF, leastWidth: number): Promise<GeoTIFFImage> {
  let best = await tiff.getImage(0);
  const count = Math.min(mostLevels, await tiff.getImageCount());
  const aspect = best.getWidth() / best.getHeight();
  for (let i = 1; i < count; i++) {
    const image = await tiff.getImage(i);
    const isReduced = Math.abs(image.getWidth() / image.getHeight() / aspect - 1) < 0.02;
    const isMask = ((image.fileDirectory.getValue('NewSubfileType') ?? 0) & 4) !== 0;
    if (!isReduced || isMask || image.getSamplesPerPixel() < 3) continue;
    if (image.getWidth() >= leastWidth && image.getWidth() < best.getWidth()) best = image;
  }
  return best;
}

/** Colours of 8 or 16 bits with full opacity; what is all black at the edge of many photographs is taken for none. */
function opaque(colours: ArrayLike<number>, pixels: number): Uint8ClampedArray<ArrayBuffer> {
  const data = new Uint8ClampedArray(4 * pixels);
  const perStep = colours instanceof Uint16Array ? 1 / 256 : 1;
  for (let i = 0; i < pixels; i++) {
    const [red, green, blue] = [colours[3 * i], colours[3 * i + 1], colours[3 * i + 2]];
    data[4 * i] = red * perStep;
    data[4 * i + 1] = green * perStep;
    data[4 * i + 2] = blue * perStep;
    data[4 * i + 3] = red + green + blue === 0 ? 0 : 255;
  }
  return data;
}
