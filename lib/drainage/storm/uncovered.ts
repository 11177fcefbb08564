import { difference, featureCollection, polygon as turfPolygon } from '@turf/turf';
import type { Feature, Polygon } from 'geojson';
import { areaM2, boundsOf, type Rings } from '../../frame/shapes';

/**
 * Area of a polygon that none of the others covers, square metres.
 *
 * Cost: those whose bounds meet its own, by the product of their corners.
 */
export function uncoveredM2(rings: Rings, covers: readonly Rings[]): number {
  const own = boundsOf(rings[0]);
  const near = covers.filter(([outline]) => {
    const { west, south, east, north } = boundsOf(outline);
    return west < own.east && east > own.west && south < own.north && north > own.south;
  });
  if (near.length === 0) return areaM2(rings);
  const left = difference(featureCollection([planar(rings), ...near.map(planar)]));
  if (left === null) return 0;
  const { geometry } = left;
  const parts = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates;
  return parts.reduce(
    (sum, part) => sum + areaM2(part.map((ring) => ring.map(([x, y]) => [x, y] as const))),
    0,
  );
}

function planar(rings: Rings): Feature<Polygon> {
  return turfPolygon(rings.map((ring) => [...ring, ring[0]].map(([x, y]) => [x, y])));
}
