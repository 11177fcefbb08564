import { InputError } from '../../errors';
import { type FrameSpec, type LngLat, localFrame, makeFrame, type XY } from '../../frame/frame';
import { isSimilarity, localDistortion, metresPerUnit } from '../../frame/local-distortion';
import { toMap } from '../system/georeference';
import { groundCellM, type Raster } from '../file/raster';
import type { RasterWindow } from '../file/read-blocks';
import type { Cells } from '../file/read-cells';
import { interpolate, type LocalCells, placesInRaster } from './resample';
import { inMillions, round } from '../note';

/**
 * What lies on a side of the window: the end of the data; more data that a larger window would hold; or more data where
 * the window was kept smaller than asked for, as no more cells are read.
 */
export type Edge = 'data' | 'window' | 'limit';

/** For each side of a window, what lies there. */
export type Edges = Readonly<Record<'north' | 'east' | 'south' | 'west', Edge>>;

/** No window holds more cells unless the caller says otherwise. */
export const MOST_CELLS = 16_000_000;

/** How a window is had: which cells of the file to read, and how they come to lie in the frame. */
export interface WindowPlan {
  readonly source: RasterWindow;
  readonly cells: LocalCells;
  /** How far it reaches beyond the points where the data do, metres: less than asked for where that is too many cells. */
  readonly marginM: number;
  readonly resampled: boolean;
  readonly why: string;
  readonly sourceCellM: number;
  edges(): Edges;
  /** Puts the cells that were read into the grid, less `base`, in the file's vertical units. */
  place(raw: Cells, base: number): { cells: LocalCells; z: Float32Array };
}

/** How large a window is wanted. */
interface Extent {
  readonly marginM: number;
  readonly mostCells: number;
}

/**
 * Plans a window around some points: cell for cell where the raster allows it, else interpolated into a frame
 * of its own. Reads nothing.
 *
 * @param extent - how far beyond the points, or as far as so many cells allow.
 * @throws {InputError} `elevation-window-too-large` when the points alone take more cells.
 */
export function planWindow(
  raster: Raster,
  points: readonly LngLat[],
  centre: LngLat,
  extent: Extent,
): WindowPlan {
  const [pixelX, pixelY] = raster.mapping.toPixel(centre);
  const [alongRow, alongColumn] = groundCellM(raster.mapping, pixelX, pixelY);
  const native = nativeFrame(raster, [pixelX, pixelY]);
  if ('frame' in native) return planNative(raster, points, native, extent);
  return planResampled(raster, points, centre, extent, {
    cellM: Math.min(alongRow, alongColumn),
    sourceCellM: Math.max(alongRow, alongColumn),
    why: native.why,
  });
}

interface NativeFrame {
  readonly frame: FrameSpec;
  /** Side of a cell in units of the projection. */
  readonly cell: number;
}

/** The frame in which a raster's cells can be used as they are, or why they cannot. */
function nativeFrame(raster: Raster, [column, row]: XY): NativeFrame | { readonly why: string } {
  const { place, system } = raster;
  if (system.kind === 'degrees') return { why: 'it is in degrees' };
  const sides = [Math.abs(place.eastByColumn), Math.abs(place.northByRow)];
  const cell = (sides[0] + sides[1]) / 2;
  if (Math.max(Math.abs(place.eastByRow), Math.abs(place.northByColumn)) > 1e-6 * cell) {
    return { why: 'its rows do not run east' };
  }
  // Over a thousand cells the sides part by less than a hundredth of one.
  if (Math.abs(sides[0] - sides[1]) > 1e-5 * cell) return { why: 'its cells are not square' };
  const [east, north] = toMap(place, column, row);
  const frameAt = (metres: number): FrameSpec => ({
    projection: system.definition,
    originEast: Math.round(east),
    originNorth: Math.round(north),
    metresPerUnit: metres,
  });
  const plain = makeFrame({ ...frameAt(1), originEast: 0, originNorth: 0 });
  const step = 50 / (system.unitM === null ? 1 : system.unitM / system.unitFactor);
  const distortion = localDistortion((at) => plain.toLngLat(at), [east, north], step);
  if (!isSimilarity(distortion)) {
    return { why: 'its projection stretches the ground unequally there' };
  }
  return { frame: frameAt(metresPerUnit(distortion)), cell };
}

function planNative(
  raster: Raster,
  points: readonly LngLat[],
  { frame, cell }: NativeFrame,
  extent: Extent,
): WindowPlan {
  const { layout, place } = raster;
  const cellM = cell * frame.metresPerUnit;
  const pixels = points.map((point) => raster.mapping.toPixel(point));
  const columnsAt = spanOf(
    pixels.map(([column]) => column),
    layout.width,
  );
  const rowsAt = spanOf(
    pixels.map(([, row]) => row),
    layout.height,
  );
  const { margin, marginM, beyond } = marginOf(raster.name, cellM, extent, (cells) => {
    const [left, right] = columnsAt(cells);
    const [top, bottom] = rowsAt(cells);
    return [right - left, bottom - top];
  });
  const [left, right] = columnsAt(margin);
  const [top, bottom] = rowsAt(margin);
  const source = { column: left, row: top, width: right - left, height: bottom - top };
  const mirrored = place.eastByColumn < 0;
  const southUp = place.northByRow > 0;
  const [west, north] = toMap(place, mirrored ? right : left, southUp ? bottom : top);
  const cells: LocalCells = {
    frame,
    westM: (west - frame.originEast) * frame.metresPerUnit,
    northM: (north - frame.originNorth) * frame.metresPerUnit,
    cellM,
    width: source.width,
    height: source.height,
  };
  const first = (at: number): Edge => (at === 0 ? 'data' : beyond);
  const last = (at: number, end: number): Edge => (at === end ? 'data' : beyond);
  const rows = [first(top), last(bottom, layout.height)];
  const columns = [first(left), last(right, layout.width)];
  return {
    source,
    cells,
    marginM,
    resampled: false,
    why: '',
    sourceCellM: cellM,
    edges: () => ({
      north: rows[southUp ? 1 : 0],
      south: rows[southUp ? 0 : 1],
      west: columns[mirrored ? 1 : 0],
      east: columns[mirrored ? 0 : 1],
    }),
    place: (raw, base) => ({ cells, z: turned(raw, source, base, mirrored, southUp) }),
  };
}

/** First and last (not included) cell over a set of places, by margin in cells, kept within the raster. */
function spanOf(places: readonly number[], end: number): (margin: number) => [number, number] {
  // A corner on the line between two cells must not take in another cell for its last digit.
  const slack = 1e-6;
  const lowest = Math.floor(Math.min(...places) + slack);
  const highest = Math.ceil(Math.max(...places) - slack);
  return (margin) => {
    const first = Math.min(Math.max(lowest - margin, 0), end - 1);
    return [first, Math.min(Math.max(highest + margin, first + 1), end)];
  };
}

/**
 * The margin asked for in cells, or the widest with which a window holds no more cells than it may; and what then lies
 * beyond it where there are more data.
 *
 * @param sizeWith - columns and rows of the window by its margin in cells.
 */
function marginOf(
  name: string,
  cellM: number,
  { marginM, mostCells }: Extent,
  sizeWith: (margin: number) => readonly [number, number],
): { margin: number; marginM: number; beyond: 'window' | 'limit' } {
  const fits = (margin: number): boolean => {
    const [columns, rows] = sizeWith(margin);
    return columns * rows <= mostCells;
  };
  const asked = Math.ceil(marginM / cellM);
  if (fits(asked)) return { margin: asked, marginM, beyond: 'window' };
  if (!fits(0)) {
    const [columns, rows] = sizeWith(0);
    throw new InputError({
      code: 'elevation-window-too-large',
      where: name,
      problem: `the area takes ${columns} by ${rows} cells of ${round(cellM)} m, more than ${inMillions(mostCells)}`,
      remedy: 'choose a smaller area, or a raster with larger cells',
    });
  }
  let margin = 0;
  let tooWide = asked;
  while (tooWide - margin > 1) {
    const between = Math.floor((margin + tooWide) / 2);
    if (fits(between)) margin = between;
    else tooWide = between;
  }
  return { margin, marginM: margin * cellM, beyond: 'limit' };
}

/** Cells with row 0 in the north and column 0 in the west, less `base`. */
function turned(
  raw: Cells,
  { width, height }: RasterWindow,
  base: number,
  mirrored: boolean,
  southUp: boolean,
): Float32Array {
  // The file's own order is turned in place when it holds 32 bits already: no second copy.
  const z =
    raw instanceof Float32Array && !mirrored && !southUp ? raw : new Float32Array(raw.length);
  for (let r = 0; r < height; r++) {
    const from = (southUp ? height - 1 - r : r) * width;
    for (let c = 0; c < width; c++) {
      z[r * width + c] = raw[from + (mirrored ? width - 1 - c : c)] - base;
    }
  }
  return z;
}

function planResampled(
  raster: Raster,
  points: readonly LngLat[],
  centre: LngLat,
  extent: Extent,
  spacing: { readonly cellM: number; readonly sourceCellM: number; readonly why: string },
): WindowPlan {
  const { layout, mapping } = raster;
  const { cellM } = spacing;
  // Rounded, so that the frame written into results is short; about a decimetre.
  const frame = localFrame([Number(centre[0].toFixed(6)), Number(centre[1].toFixed(6))]);
  const { toLocal } = makeFrame(frame);
  const local = points.map((point) => toLocal(point));
  const xs = local.map(([x]) => x);
  const ys = local.map(([, y]) => y);
  const west = Math.floor(Math.min(...xs) / cellM);
  const east = Math.ceil(Math.max(...xs) / cellM);
  const south = Math.floor(Math.min(...ys) / cellM);
  const north = Math.ceil(Math.max(...ys) / cellM);
  const sizeWith = (margin: number) =>
    [east - west + 2 * margin, north - south + 2 * margin] as const;
  const { margin, marginM, beyond } = marginOf(raster.name, cellM, extent, sizeWith);
  const [columns, rows] = sizeWith(margin);
  const asked: LocalCells = {
    frame,
    westM: (west - margin) * cellM,
    northM: (north + margin) * cellM,
    cellM,
    width: columns,
    height: rows,
  };
  const wide = placesInRaster(asked, mapping, layout.width, layout.height);
  const { firstColumn, firstRow, endColumn, endRow } = wide.inside;
  const cells: LocalCells = {
    ...asked,
    westM: asked.westM + firstColumn * cellM,
    northM: asked.northM - firstRow * cellM,
    width: endColumn - firstColumn,
    height: endRow - firstRow,
  };
  const column = crop(wide.column, asked.width, wide.inside);
  const row = crop(wide.row, asked.width, wide.inside);
  const source = windowAround(column, row, layout.width, layout.height);
  const outside = (i: number): boolean =>
    !(column[i] >= 0 && row[i] >= 0 && column[i] <= layout.width && row[i] <= layout.height);
  const side = (cut: boolean, cellsOfSide: number, index: (k: number) => number): Edge => {
    if (cut) return 'data';
    for (let k = 0; k < cellsOfSide; k++) if (!outside(index(k))) return beyond;
    return 'data';
  };
  const { width, height } = cells;
  return {
    source,
    cells,
    marginM,
    resampled: true,
    why: spacing.why,
    sourceCellM: spacing.sourceCellM,
    edges: () => ({
      north: side(firstRow > 0, width, (k) => k),
      south: side(endRow < asked.height, width, (k) => (height - 1) * width + k),
      west: side(firstColumn > 0, height, (k) => k * width),
      east: side(endColumn < asked.width, height, (k) => k * width + width - 1),
    }),
    place: (raw, base) => ({ cells, z: interpolate(raw, source, column, row, layout, base) }),
  };
}

function crop(
  values: Float64Array,
  width: number,
  inside: { firstColumn: number; firstRow: number; endColumn: number; endRow: number },
): Float64Array {
  const columns = Math.max(inside.endColumn - inside.firstColumn, 0);
  const rows = Math.max(inside.endRow - inside.firstRow, 0);
  if (columns * rows === values.length) return values;
  const out = new Float64Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    const from = (inside.firstRow + r) * width + inside.firstColumn;
    out.set(values.subarray(from, from + columns), r * columns);
  }
  return out;
}

/** The cells of the file that interpolation at some places needs. */
function windowAround(
  column: Float64Array,
  row: Float64Array,
  width: number,
  height: number,
): RasterWindow {
  let left = width;
  let right = 0;
  let top = height;
  let bottom = 0;
  for (let i = 0; i < column.length; i++) {
    if (column[i] < left) left = column[i];
    if (column[i] > right) right = column[i];
    if (row[i] < top) top = row[i];
    if (row[i] > bottom) bottom = row[i];
  }
  const first = Math.min(Math.max(Math.floor(left) - 1, 0), width - 1);
  const upper = Math.min(Math.max(Math.floor(top) - 1, 0), height - 1);
  return {
    column: first,
    row: upper,
    width: Math.min(Math.max(Math.ceil(right) + 1, first + 1), width) - first,
    height: Math.min(Math.max(Math.ceil(bottom) + 1, upper + 1), height) - upper,
  };
}
