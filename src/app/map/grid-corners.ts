import type { Grid } from '../../../lib/elevation/grid';
import { makeFrame } from '../../../lib/frame/frame';
import type { Corners } from './map-props';

/** A block of a grid's cells. */
export interface CellWindow {
  readonly column: number;
  readonly row: number;
  readonly columns: number;
  readonly rows: number;
}

/** The outer corners on the ground of a grid, or of a block of its cells. */
export function gridCorners(
  grid: Pick<Grid, 'width' | 'height' | 'cellM' | 'westM' | 'northM' | 'frame'>,
  window: CellWindow = { column: 0, row: 0, columns: grid.width, rows: grid.height },
): Corners {
  const frame = makeFrame(grid.frame);
  const west = grid.westM + window.column * grid.cellM;
  const north = grid.northM - window.row * grid.cellM;
  const east = west + window.columns * grid.cellM;
  const south = north - window.rows * grid.cellM;
  return [
    frame.toLngLat([west, north]),
    frame.toLngLat([east, north]),
    frame.toLngLat([east, south]),
    frame.toLngLat([west, south]),
  ];
}
