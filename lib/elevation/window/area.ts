import type { LngLat } from '../../frame/frame';

/** The place of interest: a box `[west, south, east, north]` in degrees, or the rings of polygons. */
export type Area =
  | readonly [west: number, south: number, east: number, north: number]
  | readonly (readonly LngLat[])[];

/** Points that reach as far as the area does in every map projection: its corners, or those of its box and sides. */
export function areaPoints(area: Area): readonly LngLat[] {
  if (!isBox(area)) return area.flat();
  const [west, south, east, north] = area;
  const steps = 4;
  const points: LngLat[] = [];
  for (let i = 0; i <= steps; i++) {
    const lng = west + ((east - west) * i) / steps;
    const lat = south + ((north - south) * i) / steps;
    points.push([lng, south], [lng, north], [west, lat], [east, lat]);
  }
  return points;
}

/** Middle of the points' bounding box. */
export function middleOf(points: readonly LngLat[]): LngLat {
  const lngs = points.map(([lng]) => lng);
  const lats = points.map(([, lat]) => lat);
  return [(Math.min(...lngs) + Math.max(...lngs)) / 2, (Math.min(...lats) + Math.max(...lats)) / 2];
}

export function isBox(area: Area): area is readonly [number, number, number, number] {
  return typeof area[0] === 'number';
}
