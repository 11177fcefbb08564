import type { LngLat } from '../../frame/frame';
import { groundOffset } from '../../frame/ground-offset';
import { compass } from '../../units/compass';
import type { Raster } from '../file/raster';

/** Beyond this the flat reckoning of the distance is rough; it is then only named as far. */
const FAR_M = 300_000;
/** A corner may lie this much of a cell outside: the outermost cell's height holds there as well. */
const TOLERANCE_CELLS = 0.5;

/**
 * Says where and by how much an area reaches beyond a raster, or null when the raster covers it.
 * The distance is that of the area's farthest point from the nearest edge of the raster.
 */
export function coverageProblem(
  raster: Raster,
  points: readonly LngLat[],
  centre: LngLat,
): string | null {
  const { width, height } = raster.layout;
  let worstM = -1;
  let bearingDeg = 0;
  let inside = 0;
  for (const point of points) {
    const [column, row] = raster.mapping.toPixel(point);
    const beyond = Math.max(-column, column - width, -row, row - height);
    if (beyond <= TOLERANCE_CELLS) {
      inside++;
      continue;
    }
    if (!Number.isFinite(column + row)) return farAway();
    const edge = raster.mapping.toLngLat([
      Math.min(Math.max(column, 0), width),
      Math.min(Math.max(row, 0), height),
    ]);
    const [east, north] = groundOffset(edge, point);
    const distanceM = Math.hypot(east, north);
    if (!(distanceM > worstM)) continue;
    worstM = distanceM;
    bearingDeg = (Math.atan2(east, north) * 180) / Math.PI;
  }
  if (inside === points.length) return null;
  const [lng, lat] = centre;
  if (worstM > FAR_M) return `${farAway()} (the lot is at ${lng.toFixed(4)}, ${lat.toFixed(4)})`;
  const direction = compass(bearingDeg);
  const [column, row] = raster.mapping.toPixel(centre);
  const apart = column < 0 || row < 0 || column > width || row > height;
  return apart
    ? `it does not cover the lot, which lies up to ${distance(worstM)} beyond it to the ${direction}`
    : `it does not cover the whole lot, which reaches ${distance(worstM)} beyond it to the ${direction}`;
}

function farAway(): string {
  return 'it does not cover the lot: it lies in another part of the world';
}

function distance(metres: number): string {
  if (metres < 10) return `${metres.toFixed(1)} m`;
  if (metres < 1000) return `${metres.toFixed(0)} m`;
  return `${(metres / 1000).toFixed(metres < 10_000 ? 1 : 0)} km`;
}
