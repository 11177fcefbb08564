import type { XY } from './frame';
import type { Rings } from './shapes';

/** Rings as GeoJSON has them, the first corner repeated at the end. */
export function closedRings(rings: Rings): XY[][] {
  return rings.map((ring) => [...ring, ring[0]]);
}

/** The polygons of a GeoJSON geometry that the geometry library wrote, without repeated corners; empty ones are left out. */
export function polygonsIn(geometry: unknown): Rings[] {
  const { type, coordinates } = geometry as
    { type: 'Polygon'; coordinates: XY[][] } | { type: 'MultiPolygon'; coordinates: XY[][][] };
  const polygons = type === 'Polygon' ? [coordinates] : coordinates;
  return polygons
    .filter((rings) => rings.length > 0 && rings[0].length > 3)
    .map((rings) => rings.map((ring) => ring.slice(0, -1)));
}
