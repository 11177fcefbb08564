import { quote } from './property-fault';

/** Beyond this latitude, local map frames and sun and frost rules are of no use. Own choice. */
const mostLatitudeDeg = 85;

/**
 * What is wrong with a GeoJSON position (RFC 7946, section 3.1.1: longitude, then latitude, WGS 84 degrees), and
 * what to do about it; `undefined` when nothing is.
 */
export function positionFault(value: unknown): { problem: string; remedy: string } | undefined {
  if (!Array.isArray(value) || value.length < 2 || !value.every(Number.isFinite)) {
    return {
      problem: `expected a position as [longitude, latitude] in degrees, got ${quote(value)}`,
      remedy: 'give two numbers, and a third one only for a height',
    };
  }
  const [lng, lat] = value as number[];
  if (Math.abs(lng) <= 180 && Math.abs(lat) <= 90) {
    if (Math.abs(lat) <= mostLatitudeDeg) return undefined;
    return {
      problem: `latitude ${lat} is within 5 degrees of a pole`,
      remedy: `give a lot between latitudes -${mostLatitudeDeg} and ${mostLatitudeDeg}`,
    };
  }
  const at = quote([lng, lat]);
  if (Math.abs(lng) <= 90 && Math.abs(lat) <= 180) {
    return {
      problem: `${at} has latitude before longitude, by the look of it`,
      remedy: 'put longitude first, as GeoJSON has it',
    };
  }
  if (Math.abs(lng) > 360 || Math.abs(lat) > 360) {
    return {
      problem: `${at} looks like projected coordinates (metres or feet), not degrees`,
      remedy: 'export the plan again in WGS 84 longitude and latitude (EPSG:4326)',
    };
  }
  return {
    problem: `${at} is off the globe`,
    remedy: 'give longitudes from -180 to 180 and latitudes from -90 to 90',
  };
}
