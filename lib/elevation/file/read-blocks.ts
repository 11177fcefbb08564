import { getDecoder, type GeoTIFFImage } from 'geotiff';
import { Cancelled, InputError, throwIfCancelled } from '../../errors';
import { blockNumbers } from './block-index';
import type { CachedBytes, Inflate } from '../bytes/byte-source';
import type { MaskLayout } from './raster';
import { readsByRow } from './tiff-layout';
import { predictorOf } from './undo-predictor';
import { unpackLzw } from './unpack-lzw';
import { unpackPackBits } from './unpack-packbits';

/** A rectangle of cells, in columns and rows of the whole raster. */
export interface RasterWindow {
  readonly column: number;
  readonly row: number;
  readonly width: number;
  readonly height: number;
}

/** One block of a raster, or the part of it that a window needs, unpacked. */
export interface RasterBlock {
  /** Column and row of the raster at which the bytes begin. */
  readonly column: number;
  readonly row: number;
  readonly rows: number;
  readonly columns: number;
  /** The cells, row by row; null when the file leaves the block out. */
  readonly bytes: ArrayBuffer | null;
  readonly rowBytes: number;
  /** For each cell of the block, row by row, zero where the packing itself marks it as empty; null when none is. */
  readonly filled: Uint8Array | null;
  /** Byte order of the unpacked numbers. */
  readonly littleEndian: boolean;
}

/** What blocks are read from. */
export interface BlockSource {
  readonly name: string;
  readonly bytes: CachedBytes;
  readonly image: GeoTIFFImage;
  readonly layout: MaskLayout;
}

/** Blocks fetched and unpacked at the same time. */
const AT_ONCE = 6;
/** Uncompressed rows are read in one piece up to this length, beyond it only the needed columns of each. */
const ONE_PIECE_BYTES = 4 * 1024 * 1024;
/** Blocks that follow each other are fetched together up to this length, with so little between them. */
const RUN_BYTES = 1024 * 1024;
const GAP_BYTES = 16;
const UNCOMPRESSED = 1;
const LZW = 5;
const PACKBITS = 32773;
const LERC = 34887;
const DEFLATE = 8;
const OLD_DEFLATE = 32946;
const ZSTD = 50000;

/**
 * Reads the blocks of the first band that a window touches and hands each one over as soon as it is there,
 * in no particular order. Never holds more than a few blocks.
 *
 * @throws {InputError} `elevation-truncated` or `elevation-damaged`. @throws {Cancelled}
 */
export async function readBlocks(
  source: BlockSource,
  window: RasterWindow,
  take: (block: RasterBlock) => void,
  options: {
    readonly signal?: AbortSignal | undefined;
    readonly onBlock?: (done: number, of: number) => void;
  },
): Promise<void> {
  const { layout } = source;
  const firstX = Math.floor(window.column / layout.blockWidth);
  const firstY = Math.floor(window.row / layout.blockHeight);
  const across = Math.floor((window.column + window.width - 1) / layout.blockWidth) - firstX + 1;
  const down = Math.floor((window.row + window.height - 1) / layout.blockHeight) - firstY + 1;
  const total = across * down;
  const places: BlockPlace[] = [];
  if (layout.blocksAcross === 1) places.push(...(await placesOf(source, 0, firstY, down)));
  else {
    for (let y = firstY; y < firstY + down; y++) {
      places.push(...(await placesOf(source, firstX, y, across)));
    }
  }
  const unpack = await unpacker(source);
  const runs = runsOf(places);
  let next = 0;
  let done = 0;
  const work = async (): Promise<void> => {
    while (next < runs.length) {
      const run = runs[next++];
      throwIfCancelled(options.signal);
      await readRun(source, unpack, run, window, options.signal, (block, blocks = 1) => {
        take(block);
        done += blocks;
        options.onBlock?.(done, total);
      });
    }
  };
  await Promise.all(Array.from({ length: Math.min(AT_ONCE, runs.length) }, work));
}

/** Where a block lies in the raster and in the file. */
interface BlockPlace {
  readonly x: number;
  readonly y: number;
  readonly offset: number;
  /** Bytes in the file; 0 when the file leaves the block out. */
  readonly length: number;
  readonly row: number;
  readonly rows: number;
}

/** Places of so many blocks that follow each other: along a row of them, or down where each fills a row. */
async function placesOf(
  source: BlockSource,
  firstX: number,
  firstY: number,
  count: number,
): Promise<BlockPlace[]> {
  const { layout } = source;
  const index = firstY * layout.blocksAcross + firstX;
  const [offsets, lengths] = await Promise.all([
    blockNumbers(source, layout.tiled ? 'TileOffsets' : 'StripOffsets', index, count),
    blockNumbers(source, layout.tiled ? 'TileByteCounts' : 'StripByteCounts', index, count),
  ]);
  return Array.from({ length: count }, (_, i) => {
    const [x, y] = layout.blocksAcross === 1 ? [0, firstY + i] : [firstX + i, firstY];
    return placeOf(source, x, y, offsets?.[i] ?? Number.NaN, lengths?.[i]);
  });
}

function placeOf(
  { layout, bytes, name }: BlockSource,
  x: number,
  y: number,
  offset: number,
  stated: number | undefined,
): BlockPlace {
  const row = y * layout.blockHeight;
  // The last strip holds only the rows that are left; a tile is always whole.
  const rows = layout.tiled
    ? layout.blockHeight
    : Math.min(layout.blockHeight, layout.height - row);
  const full = rows * rowBytesOf(layout);
  const length = stated ?? (layout.compression === UNCOMPRESSED ? full : Number.NaN);
  if (length === 0 || offset === 0) return { x, y, offset: 0, length: 0, row, rows };
  const size = bytes.fileSize;
  const absurd = !(offset > 0) || !(length > 0) || length > longestPacked(full);
  if (absurd || (size !== null && offset + Math.min(length, full) > size)) {
    throw cutShort(name, size);
  }
  return { x, y, offset, length, row, rows };
}

function rowBytesOf(layout: MaskLayout): number {
  return Math.ceil(layout.blockWidth * layout.bytesPerCell);
}

/**
 * Blocks that follow each other in the file, put together so that one read fetches many: strips are often a row each,
 * and a read for each costs more than unpacking it.
 */
function runsOf(places: readonly BlockPlace[]): readonly (readonly BlockPlace[])[] {
  const runs: BlockPlace[][] = [];
  let end = -1;
  let bytes = 0;
  for (const place of places) {
    const gap = place.offset - end;
    const joins =
      place.length > 0 &&
      end > 0 &&
      gap >= 0 &&
      gap <= GAP_BYTES &&
      bytes + place.length <= RUN_BYTES;
    if (joins) runs[runs.length - 1].push(place);
    else runs.push([place]);
    bytes = joins ? bytes + gap + place.length : place.length;
    end = place.length > 0 ? place.offset + place.length : -1;
  }
  return runs;
}

interface Unpacked {
  readonly bytes: ArrayBuffer;
  readonly filled: Uint8Array | null;
}
/** Unpacks a block, given how many bytes it must come to. */
type Unpack = (packed: Uint8Array, lengthBytes: number) => Promise<Unpacked>;

/**
 * The decoder for a layout. LZW, PackBits and ZSTD are unpacked here to the length that is due, and zlib's format where
 * the file lies on a disk: the library's decoders go on without end on some damaged input, and are slow.
 */
async function unpacker({ image, layout, bytes }: BlockSource): Promise<Unpack> {
  if (layout.compression === LERC) {
    const parameters: unknown = await image.fileDirectory.loadValue('LercParameters');
    return lercUnpacker(layout, (parameters as ArrayLike<number> | undefined)?.[1] ?? 0);
  }
  const byOwn = (await boundedUnpacker(layout, bytes.inflate)) ?? (await libraryUnpacker(layout));
  const undo = predictorOf(layout);
  return async (packed, lengthBytes) => {
    const unpacked = byOwn(packed, lengthBytes);
    const bytes = exactly(unpacked instanceof Uint8Array ? unpacked : await unpacked);
    undo(bytes);
    return { bytes, filled: null };
  };
}

type BoundedUnpack = (packed: Uint8Array, lengthBytes: number) => Uint8Array | Promise<Uint8Array>;

async function boundedUnpacker(
  layout: MaskLayout,
  inflate: Inflate | undefined,
): Promise<BoundedUnpack | null> {
  const { compression } = layout;
  if (compression === LZW) return unpackLzw;
  if (compression === PACKBITS) return unpackPackBits;
  if ((compression === DEFLATE || compression === OLD_DEFLATE) && inflate !== undefined) {
    // Some writers fill the last strip up to the rows that all have.
    const mostBytes = layout.blockHeight * rowBytesOf(layout);
    return (packed) => inflate(packed, mostBytes);
  }
  return compression === ZSTD ? zstdUnpacker() : null;
}

async function libraryUnpacker(layout: MaskLayout): Promise<BoundedUnpack> {
  const decoder = await getDecoder(layout.compression, { ...decoderShape(layout), predictor: 1 });
  return async (packed) => new Uint8Array((await decoder.decode(exactly(packed))) as ArrayBuffer);
}

async function zstdUnpacker(): Promise<BoundedUnpack> {
  const { ZSTDDecoder } = await import('zstddec');
  const zstd = new ZSTDDecoder();
  await zstd.init();
  return (packed, lengthBytes) => zstd.decode(packed, lengthBytes);
}

function exactly(bytes: Uint8Array): ArrayBuffer {
  const { buffer, byteOffset, byteLength } = bytes;
  const whole = byteLength === buffer.byteLength && buffer instanceof ArrayBuffer;
  return whole ? buffer : (buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer);
}

/**
 * LERC keeps beside the numbers a mask of the cells that hold any, which is how cells of NaN are stored. The
 * TIFF library drops it and leaves zeros there, so the blocks are decoded here.
 */
async function lercUnpacker(layout: MaskLayout, packedBy: number): Promise<Unpack> {
  const { default: lerc } = await import('lerc');
  const zstd = packedBy === 2 ? await zstdUnpacker() : null;
  const inflate =
    packedBy === 1 ? await getDecoder(DEFLATE, { ...decoderShape(layout), predictor: 1 }) : null;
  return async (packed, lengthBytes) => {
    let blob = exactly(packed);
    if (inflate) blob = (await inflate.decode(blob)) as ArrayBuffer;
    if (zstd) blob = exactly(await zstd(packed, longestPacked(lengthBytes)));
    const { pixels, mask } = lerc.decode(blob, { returnPixelInterleavedDims: !layout.bandsApart });
    return { bytes: pixels[0].buffer, filled: mask ?? null };
  };
}

function decoderShape(layout: MaskLayout) {
  return {
    tileWidth: layout.blockWidth,
    tileHeight: layout.blockHeight,
    bitsPerSample: Array.from({ length: layout.bandsApart ? 1 : layout.bands }, () => layout.bits),
    planarConfiguration: layout.bandsApart ? 2 : 1,
  };
}

async function readRun(
  source: BlockSource,
  unpack: Unpack,
  run: readonly BlockPlace[],
  window: RasterWindow,
  signal: AbortSignal | undefined,
  take: (block: RasterBlock, blocks?: number) => void,
): Promise<void> {
  const { layout, bytes } = source;
  const [first] = run;
  if (first.length === 0 || (readsByRow(layout) && run.length === 1)) {
    const block = blockAt(layout, first);
    take(
      first.length === 0
        ? { ...block, bytes: null, littleEndian: layout.littleEndian }
        : await readRows(source, first.offset, block, window, layout.littleEndian, signal),
    );
    return;
  }
  const last = run[run.length - 1];
  const length = last.offset + last.length - first.offset;
  const [packed] = await bytes.fetch([{ offset: first.offset, length }], signal);
  if (packed.byteLength < length) throw cutShort(source.name, bytes.fileSize);
  const rows = run.reduce((sum, place) => sum + place.rows, 0);
  const isOnePiece = layout.blocksAcross === 1 && length === rows * rowBytesOf(layout);
  if (readsByRow(layout) && isOnePiece) {
    const { littleEndian } = layout;
    take({ ...blockAt(layout, { ...first, rows }), bytes: packed, littleEndian }, run.length);
    return;
  }
  for (const place of run) {
    throwIfCancelled(signal);
    const at = place.offset - first.offset;
    const part = new Uint8Array(packed, at, place.length);
    const unpacked = await unpackPlace(source, unpack, place, part);
    const { littleEndian } = layout;
    take({ ...blockAt(layout, place), ...unpacked, littleEndian });
  }
}

async function unpackPlace(
  { name, layout }: BlockSource,
  unpack: Unpack,
  { x, y, rows }: BlockPlace,
  packed: Uint8Array,
): Promise<Unpacked> {
  const full = rows * rowBytesOf(layout);
  let unpacked: Unpacked;
  try {
    unpacked = await unpack(packed, full);
  } catch (cause) {
    if (cause instanceof Cancelled || cause instanceof InputError) throw cause;
    throw damaged(name, x, y, cause);
  }
  if (unpacked.bytes.byteLength < full) throw damaged(name, x, y, undefined);
  return unpacked;
}

function blockAt(
  layout: MaskLayout,
  { x, row, rows }: BlockPlace,
): Omit<RasterBlock, 'bytes' | 'littleEndian'> {
  return {
    filled: null,
    column: x * layout.blockWidth,
    row,
    rows,
    columns: layout.blockWidth,
    rowBytes: rowBytesOf(layout),
  };
}

/** Takes only the needed rows, and of very long ones only the needed columns, straight from the file. */
async function readRows(
  source: BlockSource,
  offset: number,
  block: Omit<RasterBlock, 'bytes' | 'littleEndian'>,
  window: RasterWindow,
  littleEndian: boolean,
  signal: AbortSignal | undefined,
): Promise<RasterBlock> {
  const { bytes, layout, name } = source;
  const top = Math.max(window.row, block.row);
  const bottom = Math.min(window.row + window.height, block.row + block.rows);
  const rows = bottom - top;
  const start = offset + (top - block.row) * block.rowBytes;
  if (rows * block.rowBytes <= ONE_PIECE_BYTES || layout.bits < 8) {
    const length = rows * block.rowBytes;
    const [piece] = await bytes.fetch([{ offset: start, length }], signal);
    if (piece.byteLength < length) throw cutShort(name, bytes.fileSize);
    return { ...block, row: top, rows, bytes: piece, littleEndian };
  }
  const left = Math.max(window.column, block.column);
  const right = Math.min(window.column + window.width, block.column + block.columns);
  const rowBytes = (right - left) * layout.bytesPerCell;
  const out = new Uint8Array(rows * rowBytes);
  for (let r = 0; r < rows; r++) {
    const at = start + r * block.rowBytes + (left - block.column) * layout.bytesPerCell;
    const [piece] = await bytes.fetch([{ offset: at, length: rowBytes }], signal);
    if (piece.byteLength < rowBytes) throw cutShort(name, bytes.fileSize);
    out.set(new Uint8Array(piece), r * rowBytes);
  }
  return {
    column: left,
    row: top,
    rows,
    columns: right - left,
    filled: null,
    rowBytes,
    bytes: out.buffer,
    littleEndian,
  };
}

/** Nothing that is worth packing grows by half when packed; more is a damaged or hostile file. */
function longestPacked(lengthBytes: number): number {
  return Math.ceil(1.5 * lengthBytes) + 65_536;
}

function cutShort(name: string, size: number | null): InputError {
  return new InputError({
    code: 'elevation-truncated',
    where: name,
    problem: `the part of it that holds the lot lies beyond its end${size === null ? '' : ` (it is ${size} bytes long)`}: the file is cut short`,
    remedy: 'download it again',
  });
}

function damaged(name: string, x: number, y: number, cause: unknown): InputError {
  return new InputError(
    {
      code: 'elevation-damaged',
      where: name,
      problem: `the part of it that holds the lot cannot be unpacked (block ${x + 1} across, ${y + 1} down): the file is damaged`,
      remedy: 'download it again',
    },
    { cause },
  );
}
