import type { Raster } from './raster';
import { type RasterBlock, type BlockSource, type RasterWindow, readBlocks } from './read-blocks';
import type { TiffLayout } from './tiff-layout';

/** Cell values in the file's vertical units, `NaN` where there is no data. */
export type Cells = Float32Array | Float64Array;

/**
 * Reads a window of cells of the first band: unpacked, scaled, and with everything that the file marks as
 * no data (its no-data value, its mask, blocks left out, numbers that are not finite) as `NaN`.
 *
 * @param window - must lie within the raster. Row 0 of the result is the file's first row, whichever way
 *   that runs on the ground.
 * Cost: only the blocks touched are fetched; 4 or 8 bytes per cell beside a few blocks.
 */
export async function readCells(
  raster: Raster,
  window: RasterWindow,
  options: {
    readonly signal?: AbortSignal | undefined;
    readonly onProgress?: (fraction: number) => void;
  } = {},
): Promise<Cells> {
  if (raster.parts !== undefined) return readParts(raster.parts, window, options);
  const { layout, scale, offset } = raster;
  const length = window.width * window.height;
  const exact =
    scale === 1 &&
    offset === 0 &&
    (layout.sample === 'float' ? layout.bits <= 32 : layout.bits <= 16);
  const cells = exact ? new Float32Array(length) : new Float64Array(length);
  const marks = noDataMarks(raster.nodata);
  const samplesPerCell = (8 * layout.bytesPerCell) / layout.bits;
  await readBlocks(
    raster,
    window,
    (block) => {
      const samples = block.bytes && samplesIn(block.bytes, layout, block.littleEndian);
      const { filled } = block;
      eachRow(
        block,
        window,
        (columns, into, at) => {
          const row = cells.subarray(into, into + columns);
          if (samples === null) {
            row.fill(Number.NaN);
            return;
          }
          if (samplesPerCell === 1) row.set(samples.subarray(at, at + columns));
          else for (let i = 0; i < columns; i++) row[i] = samples[(at + i) * samplesPerCell];
          clearMarked(row, marks);
          if (filled)
            for (let i = 0; i < columns; i++) if (filled[at + i] === 0) row[i] = Number.NaN;
          if (!exact) for (let i = 0; i < columns; i++) row[i] = row[i] * scale + offset;
        },
        layout.bytesPerCell,
      );
    },
    {
      signal: options.signal,
      onBlock: (done, of) => options.onProgress?.(done / of),
    },
  );
  if (raster.mask) await applyMask({ ...raster, ...raster.mask }, window, cells, options.signal);
  return cells;
}

/** Reads what each file has of a window; the first file counts where several have a height. */
async function readParts(
  parts: NonNullable<Raster['parts']>,
  window: RasterWindow,
  options: NonNullable<Parameters<typeof readCells>[2]>,
): Promise<Cells> {
  const cells = new Float64Array(window.width * window.height).fill(Number.NaN);
  for (const [done, { raster, column, row }] of parts.entries()) {
    const left = Math.max(window.column, column);
    const top = Math.max(window.row, row);
    const width = Math.min(window.column + window.width, column + raster.layout.width) - left;
    const height = Math.min(window.row + window.height, row + raster.layout.height) - top;
    options.onProgress?.(done / parts.length);
    if (width <= 0 || height <= 0) continue;
    const { signal } = options;
    const part = { column: left - column, row: top - row, width, height };
    const read = await readCells(raster, part, { signal });
    for (let i = 0; i < read.length; i++) {
      const into =
        (top - window.row + Math.floor(i / width)) * window.width +
        left -
        window.column +
        (i % width);
      if (Number.isNaN(cells[into])) cells[into] = read[i];
    }
  }
  return cells;
}

/** Calls back for each row that a block and a window share: cells in it, first index in the window, in the block. */
function eachRow(
  block: RasterBlock,
  window: RasterWindow,
  row: (columns: number, into: number, at: number) => void,
  bytesPerCell: number,
): void {
  const left = Math.max(window.column, block.column);
  const right = Math.min(window.column + window.width, block.column + block.columns);
  const top = Math.max(window.row, block.row);
  const bottom = Math.min(window.row + window.height, block.row + block.rows);
  const cellsPerRow = block.rowBytes / bytesPerCell;
  for (let r = top; r < bottom; r++) {
    row(
      right - left,
      (r - window.row) * window.width + (left - window.column),
      (r - block.row) * cellsPerRow + (left - block.column),
    );
  }
}

/** Sets cells to no data where the mask is zero. */
async function applyMask(
  source: BlockSource,
  window: RasterWindow,
  cells: Cells,
  signal: AbortSignal | undefined,
): Promise<void> {
  const { bits } = source.layout;
  await readBlocks(
    source,
    window,
    (block) => {
      const bytes = block.bytes === null ? null : new Uint8Array(block.bytes);
      eachRow(
        block,
        window,
        (columns, into, at) => {
          for (let i = 0; i < columns; i++) {
            const bit = (at + i) * bits;
            const shown =
              bytes !== null &&
              (bits === 8 ? bytes[at + i] !== 0 : (bytes[bit >> 3] >> (7 - (bit & 7))) & 1);
            if (!shown) cells[into + i] = Number.NaN;
          }
        },
        bits / 8,
      );
    },
    { signal },
  );
}

type Samples = Float32Array | Float64Array | Int16Array | Uint16Array | Int32Array | Uint32Array;

/** The numbers of an unpacked block; its bytes are turned round in place where they come highest first. */
function samplesIn(
  bytes: ArrayBuffer,
  { sample, bits }: TiffLayout,
  littleEndian: boolean,
): Samples {
  const size = bits / 8;
  const count = Math.floor(bytes.byteLength / size);
  if (!littleEndian) turnRound(bytes, size);
  if (sample === 'float') {
    if (bits === 64) return new Float64Array(bytes, 0, count);
    if (bits === 32) return new Float32Array(bytes, 0, count);
    return Float32Array.from(new Uint16Array(bytes, 0, count), halfFloat);
  }
  if (bits === 32) {
    return sample === 'int' ? new Int32Array(bytes, 0, count) : new Uint32Array(bytes, 0, count);
  }
  return sample === 'int' ? new Int16Array(bytes, 0, count) : new Uint16Array(bytes, 0, count);
}

function turnRound(bytes: ArrayBuffer, size: number): void {
  const view = new DataView(bytes);
  const end = bytes.byteLength - size;
  if (size === 2) {
    for (let at = 0; at <= end; at += 2) view.setUint16(at, view.getUint16(at), true);
  } else if (size === 4) {
    for (let at = 0; at <= end; at += 4) view.setUint32(at, view.getUint32(at), true);
  } else {
    for (let at = 0; at <= end; at += size) new Uint8Array(bytes, at, size).reverse();
  }
}

/** A 16-bit floating point number (IEEE 754 binary16) from its bits. */
function halfFloat(bits: number): number {
  const sign = bits & 0x8000 ? -1 : 1;
  const exponent = (bits >> 10) & 0x1f;
  const fraction = bits & 0x3ff;
  if (exponent === 0) return sign * fraction * 2 ** -24;
  if (exponent === 31) return fraction === 0 ? sign * Infinity : Number.NaN;
  return sign * (1 + fraction / 1024) * 2 ** (exponent - 15);
}

/** No number beyond this is a height; `-3.4e+38` and `3.40282e+38` stand in the tag for the largest float without being equal to it. */
const LARGEST_HEIGHT = 1e30;

/** Stored numbers that mean no data: what the tag says in text, and what 32 bits hold of it (`-9999.1`, say). */
function noDataMarks(nodata: number | null): readonly [number, number] {
  const mark = nodata ?? Number.NaN;
  return [mark, Math.fround(mark)];
}

/** Makes everything `NaN` that is a mark of no data or no finite number. */
function clearMarked(row: Cells, [mark, inBits]: readonly [number, number]): void {
  if (row instanceof Float32Array && inBits !== 0) {
    // Compared by their bits, without the sign, numbers take half the time.
    const bits = new Uint32Array(row.buffer, row.byteOffset, row.length);
    const [largest, marked] = new Uint32Array(Float32Array.of(LARGEST_HEIGHT, inBits).buffer);
    for (let i = 0; i < bits.length; i++) {
      if ((bits[i] & 0x7fffffff) > largest || bits[i] === marked) row[i] = Number.NaN;
    }
    return;
  }
  for (let i = 0; i < row.length; i++) {
    const value = row[i];
    const isHeight = value <= LARGEST_HEIGHT && value >= -LARGEST_HEIGHT;
    if (!isHeight || value === mark || value === inBits) row[i] = Number.NaN;
  }
}
