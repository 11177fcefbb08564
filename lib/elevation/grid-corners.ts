import { type LngLat, makeFrame } from '../frame/frame';
import type { Grid } from './grid';

/** A block of a grid's cells. */
export interface CellWindow {
  readonly column: number;
  readonly row: number;
  readonly columns: number;
  readonly rows: number;
}

/** The outer corners of a grid, or of a block of its cells, on the globe: north-west, north-east, south-east, south-west. */
export function gridCorners(
  grid: Omit<Grid, 'z'>,
  window: CellWindow = { column: 0, row: 0, columns: grid.width, rows: grid.height },
): [LngLat, LngLat, LngLat, LngLat] {
  const { toLngLat } = makeFrame(grid.frame);
  const { cellM } = grid;
  const westM = grid.westM + window.column * cellM;
  const northM = grid.northM - window.row * cellM;
  const eastM = westM + window.columns * cellM;
  const southM = northM - window.rows * cellM;
  return [
    toLngLat([westM, northM]),
    toLngLat([eastM, northM]),
    toLngLat([eastM, southM]),
    toLngLat([westM, southM]),
  ];
}

/** Bounding box of a grid on the globe, degrees: `[west, south, east, north]`. */
export function gridBounds(grid: Grid): [number, number, number, number] {
  const corners = gridCorners(grid);
  const lngs = corners.map(([lng]) => lng);
  const lats = corners.map(([, lat]) => lat);
  return [Math.min(...lngs), Math.min(...lats), Math.max(...lngs), Math.max(...lats)];
}
