import proj4 from 'proj4';
import { cornerAndCell, type RasterParts } from '../../../fixtures/broken/tiff';
import { cellCentre, elevationAt } from '../../../lib/elevation/grid';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import { type LngLat, makeFrame } from '../../../lib/frame/frame';

/**
 * Invented ground for tests: a plane over WGS 84 / UTM zone 18N whose height tells the place, so that a
 * raster in any system and layout can be checked cell by cell.
 */
const utm = proj4('+proj=utm +zone=18 +datum=WGS84 +units=m +no_defs');
export const EAST = 320_000;
export const NORTH = 4_300_000;

/** Height of the plane at a place given in UTM metres. */
export function planeM(east: number, north: number): number {
  return 50 + 0.05 * (east - EAST) + 0.03 * (north - NORTH);
}

export function planeAt([lng, lat]: LngLat): number {
  const [east, north] = utm.forward<[number, number]>([lng, lat]);
  return planeM(east, north);
}

export function lngLatAt(east: number, north: number): LngLat {
  return utm.inverse<[number, number]>([east, north]);
}

/** A box around the middle of the test ground, 19.5 m wide: its sides lie within cells. */
export const lot: readonly LngLat[] = [
  lngLatAt(EAST - 9.75, NORTH - 9.75),
  lngLatAt(EAST + 9.75, NORTH - 9.75),
  lngLatAt(EAST + 9.75, NORTH + 9.75),
  lngLatAt(EAST - 9.75, NORTH + 9.75),
];

export const UTM_KEYS = { 1024: 1, 1025: 1, 3072: 32618, 4099: 9001 };

/** A raster of the plane: 80 by 60 m of one-metre cells around the middle, north-up. */
export function planeRaster(): RasterParts {
  const [west, north] = [EAST - 40, NORTH + 30];
  return {
    width: 80,
    height: 60,
    z: (column, row) => planeM(west + column + 0.5, north - row - 0.5),
    place: cornerAndCell(west, north, 1),
    keys: UTM_KEYS,
  };
}

/** Largest distance of a window's heights from the plane, over cells with data that are not filled. */
export function worstErrorM(elevation: Elevation): number {
  const { grid } = elevation;
  const { toLngLat } = makeFrame(grid.frame);
  let worst = 0;
  for (let i = 0; i < grid.z.length; i++) {
    if (Number.isNaN(grid.z[i])) continue;
    worst = Math.max(
      worst,
      Math.abs(elevationAt(grid, i) - planeAt(toLngLat(cellCentre(grid, i)))),
    );
  }
  return worst;
}

export function codes(elevation: Elevation): string[] {
  return elevation.notes.map((note) => note.code);
}
