import type { Raster } from './raster';
import { type Block, type BlockSource, type CellWindow, readBlocks } from './read-blocks';
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
  window: CellWindow,
  options: {
    readonly signal?: AbortSignal | undefined;
    readonly onProgress?: (fraction: number) => void;
  } = {},
): Promise<Cells> {
  const { layout, scale, offset } = raster;
  const length = window.width * window.height;
  const exact =
    scale === 1 &&
    offset === 0 &&
    (layout.sample === 'float' ? layout.bits <= 32 : layout.bits <= 16);
  const cells = exact ? new Float32Array(length) : new Float64Array(length);
  cells.fill(Number.NaN);
  const isNoData = noDataTest(raster.nodata);
  await readBlocks(
    raster,
    window,
    (block) => {
      if (block.bytes === null) return;
      const { filled } = block;
      const read = sampleReader(block.bytes, layout, block.littleEndian);
      eachRow(
        block,
        window,
        (columns, into, at) => {
          for (
            let i = 0, from = at * layout.bytesPerCell;
            i < columns;
            i++, from += layout.bytesPerCell
          ) {
            const value = read(from);
            if (isNoData(value) || filled?.[at + i] === 0) continue;
            cells[into + i] = value * scale + offset;
          }
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

/** Calls back for each row that a block and a window share: cells in it, first index in the window, in the block. */
function eachRow(
  block: Block,
  window: CellWindow,
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
  window: CellWindow,
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

function sampleReader(
  bytes: ArrayBuffer,
  { sample, bits }: TiffLayout,
  littleEndian: boolean,
): (at: number) => number {
  const view = new DataView(bytes);
  if (sample === 'float') {
    if (bits === 64) return (at) => view.getFloat64(at, littleEndian);
    if (bits === 32) return (at) => view.getFloat32(at, littleEndian);
    return (at) => halfFloat(view.getUint16(at, littleEndian));
  }
  if (bits === 32) {
    return sample === 'int'
      ? (at) => view.getInt32(at, littleEndian)
      : (at) => view.getUint32(at, littleEndian);
  }
  return sample === 'int'
    ? (at) => view.getInt16(at, littleEndian)
    : (at) => view.getUint16(at, littleEndian);
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

/**
 * Whether a stored number means no data. The tag is text: `-3.4e+38` or `3.40282e+38` stand for the largest
 * float without being equal to it, and `-9999.1` is not what 32 bits hold of it.
 */
function noDataTest(nodata: number | null): (value: number) => boolean {
  const marker = nodata ?? Number.NaN;
  const rounded = Math.fround(marker);
  const huge = 1e30;
  return (value) =>
    !Number.isFinite(value) || value === marker || value === rounded || Math.abs(value) > huge;
}
