import type { Position } from 'geojson';
import type { PlanGeometry } from './plan-geometry';

/** Decimals kept of a degree: the ninth is 0.1 mm, and drawing tools refuse more. */
export const degreeDecimals = 9;

/** A longitude or latitude rounded to `degreeDecimals`. */
export function roundDegrees(degrees: number): number {
  return Math.round(degrees * 10 ** degreeDecimals) / 10 ** degreeDecimals;
}

/** A geometry with rounded coordinates and rings as GeoJSON wants them: outer anticlockwise, holes clockwise. */
export function tidyGeometry(geometry: PlanGeometry): PlanGeometry {
  const round = ([lng, lat]: Position): Position => [roundDegrees(lng), roundDegrees(lat)];
  switch (geometry.type) {
    case 'Point':
      return { type: 'Point', coordinates: round(geometry.coordinates) };
    case 'LineString':
      return { type: 'LineString', coordinates: geometry.coordinates.map(round) };
    case 'Polygon':
      return {
        type: 'Polygon',
        coordinates: geometry.coordinates.map((ring, index) => {
          const rounded = ring.map(round);
          return isAnticlockwise(rounded) === (index === 0) ? rounded : rounded.reverse();
        }),
      };
  }
}

function isAnticlockwise(ring: readonly Position[]): boolean {
  let sum = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    // Measured from the first corner: degrees near one another lose too many digits otherwise.
    const [ax, ay] = [ring[i][0] - ring[0][0], ring[i][1] - ring[0][1]];
    const [bx, by] = [ring[i + 1][0] - ring[0][0], ring[i + 1][1] - ring[0][1]];
    sum += ax * by - bx * ay;
  }
  return sum > 0;
}
