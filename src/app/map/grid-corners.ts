import type { Grid } from '../../../lib/elevation/grid';
import { gridCorners as outerCorners } from '../../../lib/elevation/grid-corners';
import type { Corners } from './map-props';

/** A block of a grid's cells. */
export interface CellWindow {
  readonly column: number;
  readonly row: number;
  readonly columns: number;
  readonly rows: number;
}

/** The outer corners on the ground of a grid, or of a block of its cells. */
export function gridCorners(grid: Grid, window?: CellWindow): Corners {
  if (window === undefined) return outerCorners(grid);
  return outerCorners({
    ...grid,
    width: window.columns,
    height: window.rows,
    westM: grid.westM + window.column * grid.cellM,
    northM: grid.northM - window.row * grid.cellM,
  });
}
