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
}

/** Local coordinates of a cell's centre, metres. */
export function cellCentre(grid: Grid, index: number): [number, number] {
  const row = Math.floor(index / grid.width);
  const column = index - row * grid.width;
  return [grid.westM + (column + 0.5) * grid.cellM, grid.northM - (row + 0.5) * grid.cellM];
}

/** Index of the cell that holds a local point, or -1 outside the grid. */
export function cellAt(
  grid: Pick<Grid, 'width' | 'height' | 'cellM' | 'westM' | 'northM'>,
  x: number,
  y: number,
): number {
  const column = Math.floor((x - grid.westM) / grid.cellM);
  const row = Math.floor((grid.northM - y) / grid.cellM);
  if (column < 0 || row < 0 || column >= grid.width || row >= grid.height) return -1;
  return row * grid.width + column;
}

/** Elevation in metres above the source's vertical datum at a cell, `NaN` for no data. */
export function elevationAt(grid: Grid, index: number): number {
  return grid.datumM + (grid.z[index] ?? Number.NaN);
}
