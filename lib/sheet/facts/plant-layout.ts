import type { PlantingZone, ZoneName } from '../../basin/form/planting-zones';
import type { XY } from '../../frame/frame';
import { boundsOf, contains } from '../../frame/shapes';

/** Where plants of one zone stand. */
export interface PlantPlaces {
  readonly zone: ZoneName;
  readonly places: readonly XY[];
}

/**
 * Places of a triangular grid inside the zones: no two plants stand nearer than the spacing. Each goes to the zone that it lies
 * in, so that rows run on from zone to zone.
 */
export function plantLayout(zones: readonly PlantingZone[], spacingM: number): PlantPlaces[] {
  const points = zones.flatMap(({ polygons }) => polygons.flat(2));
  if (points.length === 0) return [];
  const { west, south, east, north } = boundsOf(points);
  const rowM = (spacingM * Math.sqrt(3)) / 2;
  const found = new Map<ZoneName, XY[]>(zones.map(({ zone }) => [zone, []]));
  for (let row = 0; south + row * rowM <= north; row++) {
    const aside = row % 2 === 0 ? 0.25 : 0.75;
    for (let column = 0; west + (column + aside) * spacingM <= east; column++) {
      const at: XY = [west + (column + aside) * spacingM, south + (row + 0.5) * rowM];
      const home = zones.find(({ polygons }) => polygons.some((rings) => contains(rings, at)));
      if (home !== undefined) found.get(home.zone)?.push(at);
    }
  }
  return zones.map(({ zone }) => ({ zone, places: found.get(zone) ?? [] }));
}
