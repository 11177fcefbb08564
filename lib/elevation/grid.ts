import type { FrameSpec } from '../frame/frame';

/**
 * A raster of heights over square cells in the lot's local metric frame.
 *
 * Conventions that every kernel relies on, said once here:
 * - row-major, row 0 is the northern one, column 0 the western one: `index = row * width + column`;
 * - a value belongs to the cell's centre;
 * - `NaN` means no data; there is no other marker;
 * - neighbours are numbered clockwise from east: 0 E, 1 SE, 2 S, 3 SW, 4 W, 5 NW, 6 N, 7 NE.
 */
export interface Grid {
  /** Columns. */
  readonly width: number;
  /** Rows. */
  readonly height: number;
  /** Side of a cell in true ground metres. */
  readonly cellM: number;
  /** Local x (east, metres) of the outer north-west corner of cell (0, 0). */
  readonly westM: number;
  /** Local y (north, metres) of the outer north-west corner of cell (0, 0). */
  readonly northM: number;
  /** Heights in metres above `datumM`, `width * height` values. Data values are at least 1 (see `datumM`). */
  readonly z: Float32Array;
  /**
   * Elevation of `z = 0` in metres above the vertical datum of the source. Chosen so that every `z` is
   * small and positive: Float32 then resolves better than 0.1 mm, and its bits sort like integers.
   */
  readonly datumM: number;
  /** The frame in which `westM` and `northM` are measured. */
  readonly frame: FrameSpec;
  /** Of one of equally likely surfaces: the heights without the error that was added, and how far that may be off, metres. */
  readonly shaken?: { readonly from: Grid; readonly rmseM: number };
}

/** Local coordinates of a cell's centre, metres. */
export function cellCentre(grid: Grid, index: number): [number, number] {
  const row = Math.floor(index / grid.width);
  const column = index - row * grid.width;
  return [grid.westM + (column + 0.5) * grid.cellM, grid.northM - (row + 0.5) * grid.cellM];
}

/** Where a grid's cells lie. */
export type CellPlaces = Pick<Grid, 'width' | 'height' | 'cellM' | 'westM' | 'northM'>;

/**
 * What lies so near a line between cells or the middle of a row of them lies on it, metres and cells. What was drawn
 * there comes back from degrees a little off, and must not change sides for that. Our choice, no source.
 */
const onLineM = 0.0015;
const onLineCells = 0.01;

/** A local point in columns and rows from the grid's corner; lines between cells and through their middles are met exactly. */
export function inCells(grid: CellPlaces, x: number, y: number): [column: number, row: number] {
  const slack = Math.min(onLineM / grid.cellM, onLineCells);
  const snapped = (cells: number): number => {
    const line = Math.round(2 * cells) / 2;
    return Math.abs(cells - line) <= slack ? line : cells;
  };
  return [snapped((x - grid.westM) / grid.cellM), snapped((grid.northM - y) / grid.cellM)];
}

/** Index of the cell that holds a local point, or -1 outside the grid; on a line between cells the eastern or southern one. */
export function cellAt(grid: CellPlaces, x: number, y: number): number {
  const [column, row] = inCells(grid, x, y);
  return cellIn(grid, Math.floor(column), Math.floor(row));
}

/** Indices of the cells that a local point lies in or on the edge of: one, two or four, fewer at the grid's own edge. */
export function cellsTouching(grid: CellPlaces, x: number, y: number): number[] {
  const [column, row] = inCells(grid, x, y);
  const found: number[] = [];
  for (let r = Math.ceil(row) - 1; r <= Math.floor(row); r++) {
    for (let c = Math.ceil(column) - 1; c <= Math.floor(column); c++) {
      const cell = cellIn(grid, c, r);
      if (cell !== -1) found.push(cell);
    }
  }
  return found;
}

function cellIn({ width, height }: CellPlaces, column: number, row: number): number {
  if (column < 0 || row < 0 || column >= width || row >= height) return -1;
  return row * width + column;
}

/** Elevation in metres above the source's vertical datum at a cell, `NaN` for no data. */
export function elevationAt(grid: Grid, index: number): number {
  return grid.datumM + (grid.z[index] ?? Number.NaN);
}
