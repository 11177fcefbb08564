import { type Frame, makeFrame, type FrameSpec, type XY } from '../../frame/frame';
import type { Mapping } from '../file/raster';
import type { RasterWindow } from '../file/read-blocks';
import type { Cells } from '../file/read-cells';

/** Square cells in a local metric frame, not yet filled: corner, side and count. */
export interface LocalCells {
  readonly frame: FrameSpec;
  readonly westM: number;
  readonly northM: number;
  readonly cellM: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Where in a raster each local cell's centre falls. The exact mapping is taken at every 32nd cell and
 * interpolated between: over such a stretch map projections bend by less than a thousandth of a cell.
 */
export interface SourcePlaces {
  readonly column: Float64Array;
  readonly row: Float64Array;
  /** The rectangle of local cells (end not included) whose centres lie within the raster; empty when none do. */
  readonly inside: { firstColumn: number; firstRow: number; endColumn: number; endRow: number };
}

const NODE_STEP = 32;

/** Maps the centres of local cells to columns and rows of a raster, counted from its outer corner. */
export function placesInRaster(
  cells: LocalCells,
  mapping: Mapping,
  rasterWidth: number,
  rasterHeight: number,
): SourcePlaces {
  const { width, height } = cells;
  const frame = makeFrame(cells.frame);
  const across = Math.ceil((width - 1) / NODE_STEP) + 1;
  const nodes = (nodeRow: number): XY[] =>
    Array.from({ length: across }, (_, i) =>
      exactPlace(cells, frame, mapping, i * NODE_STEP, nodeRow * NODE_STEP),
    );
  const column = new Float64Array(width * height);
  const row = new Float64Array(width * height);
  const inside = { firstColumn: width, firstRow: height, endColumn: 0, endRow: 0 };
  let upper = nodes(0);
  let lower = nodes(1);
  for (let r = 0; r < height; r++) {
    const nodeRow = Math.floor(r / NODE_STEP);
    if (r > 0 && r % NODE_STEP === 0) {
      upper = lower;
      lower = nodes(nodeRow + 1);
    }
    const v = (r - nodeRow * NODE_STEP) / NODE_STEP;
    for (let c = 0; c < width; c++) {
      const node = Math.min(Math.floor(c / NODE_STEP), across - 2 < 0 ? 0 : across - 2);
      const u = (c - node * NODE_STEP) / NODE_STEP;
      const right = Math.min(node + 1, across - 1);
      const x = mix(upper[node][0], upper[right][0], lower[node][0], lower[right][0], u, v);
      const y = mix(upper[node][1], upper[right][1], lower[node][1], lower[right][1], u, v);
      const i = r * width + c;
      column[i] = x;
      row[i] = y;
      if (x < 0 || y < 0 || x > rasterWidth || y > rasterHeight) continue;
      if (c < inside.firstColumn) inside.firstColumn = c;
      if (c >= inside.endColumn) inside.endColumn = c + 1;
      if (r < inside.firstRow) inside.firstRow = r;
      inside.endRow = r + 1;
    }
  }
  return { column, row, inside };
}

function exactPlace(cells: LocalCells, frame: Frame, mapping: Mapping, c: number, r: number): XY {
  return mapping.toPixel(
    frame.toLngLat([cells.westM + (c + 0.5) * cells.cellM, cells.northM - (r + 0.5) * cells.cellM]),
  );
}

function mix(a: number, b: number, c: number, d: number, u: number, v: number): number {
  return (a * (1 - u) + b * u) * (1 - v) + (c * (1 - u) + d * u) * v;
}

/**
 * Interpolates cell values at places between cell centres, bilinearly, less a constant.
 *
 * No data stays where it is: a place whose nearest cell holds none gets none; beside such cells the others
 * share the weight. Within half a cell of the raster's outer edge the edge cells are carried on; beyond it
 * there is no data.
 *
 * @param cells - values of `window`, a part of the raster.
 * @param column,row - places in the whole raster's columns and rows, from its outer corner.
 * @param subtract - taken off every value, so that the result fits 32 bits well.
 */
export function interpolate(
  cells: Cells,
  window: RasterWindow,
  column: Float64Array,
  row: Float64Array,
  raster: { readonly width: number; readonly height: number },
  subtract: number,
): Float32Array {
  const out = new Float32Array(column.length);
  const { width, height } = window;
  for (let i = 0; i < out.length; i++) {
    const x = column[i];
    const y = row[i];
    if (!(x >= 0 && y >= 0 && x <= raster.width && y <= raster.height)) {
      out[i] = Number.NaN;
      continue;
    }
    const cx = Math.min(Math.max(x - window.column - 0.5, 0), width - 1);
    const cy = Math.min(Math.max(y - window.row - 0.5, 0), height - 1);
    const x0 = Math.min(Math.floor(cx), Math.max(width - 2, 0));
    const y0 = Math.min(Math.floor(cy), Math.max(height - 2, 0));
    const x1 = Math.min(x0 + 1, width - 1);
    const y1 = Math.min(y0 + 1, height - 1);
    const u = cx - x0;
    const v = cy - y0;
    const a = cells[y0 * width + x0];
    const b = cells[y0 * width + x1];
    const c = cells[y1 * width + x0];
    const d = cells[y1 * width + x1];
    const plain = mix(a, b, c, d, u, v);
    if (!Number.isNaN(plain)) {
      out[i] = plain - subtract;
      continue;
    }
    const nearest = v < 0.5 ? (u < 0.5 ? a : b) : u < 0.5 ? c : d;
    if (Number.isNaN(nearest)) {
      out[i] = Number.NaN;
      continue;
    }
    let sum = 0;
    let weight = 0;
    const add = (value: number, share: number): void => {
      if (Number.isNaN(value)) return;
      sum += value * share;
      weight += share;
    };
    add(a, (1 - u) * (1 - v));
    add(b, u * (1 - v));
    add(c, (1 - u) * v);
    add(d, u * v);
    out[i] = sum / weight - subtract;
  }
  return out;
}
