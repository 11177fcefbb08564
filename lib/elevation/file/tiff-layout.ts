import type { GeoTIFFImage } from 'geotiff';
import { InputError } from '../../errors';

/** How the samples of one image of a TIFF are laid out in the file, checked to be sane. */
export interface TiffLayout {
  readonly width: number;
  readonly height: number;
  readonly bands: number;
  readonly tiled: boolean;
  readonly blockWidth: number;
  readonly blockHeight: number;
  readonly blocksAcross: number;
  readonly blocksDown: number;
  /** Whether each band has blocks of its own. */
  readonly bandsApart: boolean;
  readonly sample: 'uint' | 'int' | 'float';
  readonly bits: number;
  /** Bytes from one cell to the next within a block. */
  readonly bytesPerCell: number;
  readonly compression: number;
  readonly predictor: number;
  readonly littleEndian: boolean;
}

/** Compressions that the decoders at hand read without loss. LERC within its stated error. */
const READABLE = new Set([1, 5, 8, 32946, 32773, 34887, 50000]);
const COMPRESSION_NAMES: Readonly<Record<number, string>> = {
  2: 'CCITT',
  3: 'CCITT fax 3',
  4: 'CCITT fax 4',
  6: 'old JPEG',
  7: 'JPEG',
  33003: 'JPEG 2000',
  34712: 'JPEG 2000',
  34925: 'LZMA',
  50001: 'WebP',
  50002: 'JPEG XL',
  52546: 'JPEG XL',
};
/** A block is unpacked whole; a larger one would hold up the page and fill its memory. */
const LARGEST_BLOCK = 128 * 1024 * 1024;
const LONGEST_SIDE = 10_000_000;

/**
 * Reads how an elevation image is laid out, from its header alone.
 *
 * @throws {InputError} for what cannot be read as elevations (a picture, a compression without decoder, an
 *   unknown number format) and for sizes that are impossible or would need too much memory.
 */
export async function readTiffLayout(image: GeoTIFFImage, name: string): Promise<TiffLayout> {
  const tags = image.fileDirectory;
  const refuse: Refuse = (code, problem, remedy) =>
    new InputError({ code, where: name, problem, remedy });
  const width = single(tags, 'ImageWidth', 0);
  const height = single(tags, 'ImageLength', 0);
  const bands = single(tags, 'SamplesPerPixel', 1);
  if (!isSize(width) || !isSize(height) || !isSize(bands)) {
    throw refuse(
      'elevation-bad-size',
      `its header gives a size of ${width} by ${height} cells, which no raster has`,
      'the file is damaged: download it again',
    );
  }
  const bits = first(tags, 'BitsPerSample', 1);
  refusePicture(single(tags, 'PhotometricInterpretation', 1), bands, bits, refuse);

  const sample = sampleOf(first(tags, 'SampleFormat', 1), bits, refuse);
  const compression = single(tags, 'Compression', 1);
  if (!READABLE.has(compression)) {
    throw refuse(
      'elevation-compression',
      `it is compressed by ${COMPRESSION_NAMES[compression] ?? 'a method'} (TIFF compression ${compression}), for which there is no decoder here`,
      'save it again with deflate, LZW or no compression',
    );
  }
  const tiled = !tags.hasTag('StripOffsets');
  const blockWidth = tiled ? single(tags, 'TileWidth', 0) : width;
  const rows = single(tags, 'RowsPerStrip', 0);
  const blockHeight = tiled
    ? single(tags, 'TileLength', 0)
    : rows > 0
      ? Math.min(rows, height)
      : height;
  if (!isSize(blockWidth) || !isSize(blockHeight)) {
    throw refuse(
      'elevation-bad-size',
      `its header gives tiles of ${blockWidth} by ${blockHeight} cells`,
      'the file is damaged: download it again',
    );
  }
  const bandsApart = single(tags, 'PlanarConfiguration', 1) === 2;
  const bytesPerCell = (bits / 8) * (bandsApart ? 1 : bands);
  const layout: TiffLayout = {
    width,
    height,
    bands,
    tiled,
    blockWidth,
    blockHeight,
    blocksAcross: Math.ceil(width / blockWidth),
    blocksDown: Math.ceil(height / blockHeight),
    bandsApart,
    sample,
    bits,
    bytesPerCell,
    compression,
    predictor: await predictorOf(tags),
    littleEndian: image.littleEndian,
  };
  if (![1, 2, 3].includes(layout.predictor) || (layout.predictor === 2 && bits === 64)) {
    throw refuse(
      'elevation-compression',
      `its ${bits}-bit numbers are stored as differences of a kind (TIFF predictor ${layout.predictor}) for which there is no decoder here`,
      'save it again as 32-bit floating point',
    );
  }
  const blockBytes = blockWidth * blockHeight * bytesPerCell;
  if (!readsByRow(layout) && blockBytes > LARGEST_BLOCK) {
    throw refuse(
      'elevation-block-too-large',
      `it is compressed in pieces of ${blockWidth} by ${blockHeight} cells (${Math.round(blockBytes / 1e6)} MB each when unpacked), so no part of it can be read alone`,
      'save it again as a tiled or cloud-optimised GeoTIFF',
    );
  }
  return layout;
}

function sampleOf(format: number, bits: number, refuse: Refuse): TiffLayout['sample'] {
  const sample = ({ 1: 'uint', 2: 'int', 3: 'float' } as const)[format];
  const sound = sample === 'float' ? [16, 32, 64].includes(bits) : [8, 16, 32].includes(bits);
  if (sample !== undefined && sound) return sample;
  throw refuse(
    'elevation-number-format',
    `its cells are ${bits}-bit numbers of TIFF sample format ${format}, which cannot be read as heights`,
    'save it again as 32-bit floating point',
  );
}

/** Reads how a mask is laid out: one band of one or eight bits, zero where there is no data. */
export async function readMaskLayout(
  image: GeoTIFFImage,
  name: string,
): Promise<Omit<TiffLayout, 'sample'>> {
  const tags = image.fileDirectory;
  const width = single(tags, 'ImageWidth', 0);
  const height = single(tags, 'ImageLength', 0);
  const tiled = !tags.hasTag('StripOffsets');
  const rows = single(tags, 'RowsPerStrip', 0);
  const blockWidth = tiled ? single(tags, 'TileWidth', 0) : width;
  const stripHeight = rows > 0 ? Math.min(rows, height) : height;
  const blockHeight = tiled ? single(tags, 'TileLength', 0) : stripHeight;
  const bits = first(tags, 'BitsPerSample', 1);
  const compression = single(tags, 'Compression', 1);
  const bands = single(tags, 'SamplesPerPixel', 1);
  const readable = READABLE.has(compression) && (bits === 1 || bits === 8) && bands === 1;
  const bytes = (blockWidth * blockHeight * bits) / 8;
  if (!readable || !isSize(blockWidth) || !isSize(blockHeight) || bytes > LARGEST_BLOCK) {
    throw new InputError({
      code: 'elevation-mask',
      where: name,
      problem: 'the mask that says which cells hold data is stored in a way that cannot be read',
      remedy: 'save it again with a no-data value in place of the mask',
    });
  }
  return {
    width,
    height,
    bands: 1,
    tiled,
    blockWidth,
    blockHeight,
    blocksAcross: Math.ceil(width / blockWidth),
    blocksDown: Math.ceil(height / blockHeight),
    bandsApart: false,
    bits,
    bytesPerCell: bits / 8,
    compression,
    predictor: await predictorOf(tags),
    littleEndian: image.littleEndian,
  };
}

/** Whether rows can be taken straight out of the file: nothing is packed, so a block need not be read whole. */
export function readsByRow(layout: Pick<TiffLayout, 'compression' | 'predictor'>): boolean {
  return layout.compression === 1 && layout.predictor === 1;
}

type Refuse = (code: string, problem: string, remedy: string) => InputError;
type Tags = GeoTIFFImage['fileDirectory'];
type TagName = Parameters<Tags['getValue']>[0];

/** The value of a tag that holds one number; in a damaged file it may hold anything. */
function single(tags: Tags, tag: TagName, otherwise: number): number {
  const value: unknown = tags.getValue(tag) ?? otherwise;
  return typeof value === 'number' ? value : Number.NaN;
}

/** The first value of a tag that holds one number for each band. */
function first(tags: Tags, tag: TagName, otherwise: number): number {
  const values: unknown = tags.getValue(tag) ?? [otherwise];
  const value: unknown = (values as ArrayLike<unknown>)[0];
  return typeof value === 'number' ? value : Number.NaN;
}

async function predictorOf(tags: Tags): Promise<number> {
  const value: unknown = (await tags.loadValue('Predictor')) ?? 1;
  return typeof value === 'number' ? value : Number.NaN;
}

function isSize(cells: number): boolean {
  return Number.isInteger(cells) && cells >= 1 && cells <= LONGEST_SIDE;
}

/** A coloured or shaded picture of the relief is easily taken for the relief: its numbers are brightness. */
function refusePicture(photometric: number, bands: number, bits: number, refuse: Refuse): void {
  // 0 and 1 are plain numbers; 2 RGB, 3 palette, 5 and up colour separations.
  const coloured = photometric >= 2 && photometric !== 4;
  if (!coloured && bits !== 8) return;
  const what = coloured
    ? bands >= 3
      ? `${bands} colour bands`
      : 'a colour palette'
    : '8-bit brightness values';
  throw refuse(
    'elevation-is-picture',
    `it holds ${what}: a picture, not heights`,
    'choose the elevation raster itself (bare earth, DTM or DEM) rather than an image of it',
  );
}
