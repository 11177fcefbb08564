import { getDecoder, type GeoTIFFImage } from 'geotiff';
import { Cancelled, InputError, throwIfCancelled } from '../errors';
import type { CachedBytes } from './byte-source';
import type { MaskLayout } from './raster';
import { readsByRow } from './tiff-layout';
import { unpackLzw } from './unpack-lzw';
import { unpackPackBits } from './unpack-packbits';

/** A rectangle of cells, in columns and rows of the whole raster. */
export interface CellWindow {
  readonly column: number;
  readonly row: number;
  readonly width: number;
  readonly height: number;
}

/** One block of a raster, or the part of it that a window needs, unpacked. */
export interface Block {
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
const UNCOMPRESSED = 1;
const LZW = 5;
const PACKBITS = 32773;
const LERC = 34887;
const DEFLATE = 8;
const ZSTD = 50000;

/**
 * Reads the blocks of the first band that a window touches and hands each one over as soon as it is there,
 * in no particular order. Never holds more than a few blocks.
 *
 * @throws {InputError} `elevation-truncated` or `elevation-damaged`. @throws {Cancelled}
 */
export async function readBlocks(
  source: BlockSource,
  window: CellWindow,
  take: (block: Block) => void,
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
  const unpack = await unpacker(source);
  let next = 0;
  let done = 0;
  const work = async (): Promise<void> => {
    while (next < total) {
      const i = next++;
      throwIfCancelled(options.signal);
      take(
        await readBlock(
          source,
          unpack,
          firstX + (i % across),
          firstY + Math.floor(i / across),
          window,
          options.signal,
        ),
      );
      options.onBlock?.(++done, total);
    }
  };
  await Promise.all(Array.from({ length: Math.min(AT_ONCE, total) }, work));
}

interface Unpacked {
  readonly bytes: ArrayBuffer;
  readonly filled: Uint8Array | null;
}
/** Unpacks a block, given how many bytes it must come to. */
type Unpack = (packed: ArrayBuffer, lengthBytes: number) => Promise<Unpacked>;

/**
 * The decoder for a layout. LZW, PackBits and ZSTD are unpacked here to the length that is due: the library's
 * decoders go on without end on some damaged input.
 */
async function unpacker({ image, layout }: BlockSource): Promise<Unpack> {
  if (layout.compression === LERC) {
    const parameters: unknown = await image.fileDirectory.loadValue('LercParameters');
    return lercUnpacker(layout, (parameters as ArrayLike<number> | undefined)?.[1] ?? 0);
  }
  const byOwn = await boundedUnpacker(layout.compression);
  const ownDifferences = undoneHere(layout);
  const decoder = await getDecoder(byOwn ? UNCOMPRESSED : layout.compression, {
    ...decoderShape(layout),
    predictor: ownDifferences ? 1 : layout.predictor,
  });
  return async (packed, lengthBytes) => {
    const input = byOwn ? exactly(byOwn(new Uint8Array(packed), lengthBytes)) : packed;
    const bytes = (await decoder.decode(input)) as ArrayBuffer;
    if (ownDifferences) undoDifferences(bytes, layout);
    return { bytes, filled: null };
  };
}

type BoundedUnpack = (packed: Uint8Array, lengthBytes: number) => Uint8Array;

async function boundedUnpacker(compression: number): Promise<BoundedUnpack | null> {
  if (compression === LZW) return unpackLzw;
  if (compression === PACKBITS) return unpackPackBits;
  if (compression !== ZSTD) return null;
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
  const zstd = packedBy === 2 ? await boundedUnpacker(ZSTD) : null;
  const inflate =
    packedBy === 1 ? await getDecoder(DEFLATE, { ...decoderShape(layout), predictor: 1 }) : null;
  return async (packed, lengthBytes) => {
    let blob = packed;
    if (inflate) blob = (await inflate.decode(packed)) as ArrayBuffer;
    if (zstd) blob = exactly(zstd(new Uint8Array(packed), longestPacked(lengthBytes)));
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

/** The library adds up differences in the machine's byte order, which is wrong for big-endian files. */
function undoneHere(layout: MaskLayout): boolean {
  return layout.predictor === 2 && !layout.littleEndian && layout.bits > 8;
}

function undoDifferences(bytes: ArrayBuffer, layout: MaskLayout): void {
  const view = new DataView(bytes);
  const size = layout.bits / 8;
  const stride = layout.bandsApart ? size : size * layout.bands;
  const rowBytes = layout.blockWidth * layout.bytesPerCell;
  for (let start = 0; start + rowBytes <= bytes.byteLength; start += rowBytes) {
    for (let at = start + stride; at < start + rowBytes; at += size) {
      if (size === 2) view.setUint16(at, view.getUint16(at) + view.getUint16(at - stride));
      else view.setUint32(at, view.getUint32(at) + view.getUint32(at - stride));
    }
  }
}

async function readBlock(
  source: BlockSource,
  unpack: Unpack,
  x: number,
  y: number,
  window: CellWindow,
  signal: AbortSignal | undefined,
): Promise<Block> {
  const { layout, bytes, image } = source;
  const tags = image.fileDirectory;
  const index = y * layout.blocksAcross + x;
  const offset = Number(
    (await tags.loadValueIndexed(layout.tiled ? 'TileOffsets' : 'StripOffsets', index)) ??
      Number.NaN,
  );
  const stated = await tags.loadValueIndexed(
    layout.tiled ? 'TileByteCounts' : 'StripByteCounts',
    index,
  );
  const row = y * layout.blockHeight;
  // The last strip holds only the rows that are left; a tile is always whole.
  const rows = layout.tiled
    ? layout.blockHeight
    : Math.min(layout.blockHeight, layout.height - row);
  const rowBytes = Math.ceil(layout.blockWidth * layout.bytesPerCell);
  const full = rows * rowBytes;
  const length =
    stated === undefined && layout.compression === 1 ? full : Number(stated ?? Number.NaN);
  const block = {
    filled: null,
    column: x * layout.blockWidth,
    row,
    rows,
    columns: layout.blockWidth,
    rowBytes,
  };
  const { littleEndian } = layout;
  if (length === 0 || offset === 0) return { ...block, bytes: null, littleEndian };

  const size = bytes.fileSize;
  const absurd = !(offset > 0) || !(length > 0) || length > longestPacked(full);
  if (absurd || (size !== null && offset + Math.min(length, full) > size)) {
    throw cutShort(source.name, size);
  }
  if (readsByRow(layout)) return readRows(source, offset, block, window, littleEndian, signal);

  const [packed] = await bytes.fetch([{ offset, length }], signal);
  if (packed.byteLength < length) throw cutShort(source.name, size);
  let unpacked: Unpacked;
  try {
    unpacked = await unpack(packed, full);
  } catch (cause) {
    if (cause instanceof Cancelled || cause instanceof InputError) throw cause;
    throw damaged(source.name, x, y, cause);
  }
  if (unpacked.bytes.byteLength < full) throw damaged(source.name, x, y, undefined);
  return { ...block, ...unpacked, littleEndian };
}

/** Takes only the needed rows, and of very long ones only the needed columns, straight from the file. */
async function readRows(
  source: BlockSource,
  offset: number,
  block: Omit<Block, 'bytes' | 'littleEndian'>,
  window: CellWindow,
  littleEndian: boolean,
  signal: AbortSignal | undefined,
): Promise<Block> {
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
