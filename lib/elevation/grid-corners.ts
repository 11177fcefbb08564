import { type LngLat, makeFrame } from '../frame/frame';
import type { Grid } from './grid';

/** The outer corners of a grid on the globe: north-west, north-east, south-east, south-west. */
export function gridCorners(grid: Grid): [LngLat, LngLat, LngLat, LngLat] {
  const { toLngLat } = makeFrame(grid.frame);
  const { westM, northM } = grid;
  const eastM = westM + grid.width * grid.cellM;
  const southM = northM - grid.height * grid.cellM;
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
