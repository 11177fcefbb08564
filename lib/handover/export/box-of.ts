import type { LngLat } from '../../frame/frame';

export type Box = readonly [west: number, south: number, east: number, north: number];

/** The least box around places, degrees. */
export function boxOf(points: readonly LngLat[]): Box {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [lng, lat] of points) {
    west = Math.min(west, lng);
    south = Math.min(south, lat);
    east = Math.max(east, lng);
    north = Math.max(north, lat);
  }
  return [west, south, east, north];
}
