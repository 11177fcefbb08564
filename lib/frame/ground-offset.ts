import type { LngLat, XY } from './frame';

/** WGS 84: equatorial radius in metres and flattening (defining constants of the system). */
const EQUATORIAL_RADIUS_M = 6_378_137;
const FLATTENING = 1 / 298.257223563;
const ECCENTRICITY_SQUARED = FLATTENING * (2 - FLATTENING);

/** Radii of curvature of the WGS 84 ellipsoid at a latitude, metres. */
export interface Radii {
  /** Along the meridian: metres of northing for one radian of latitude. */
  readonly meridianM: number;
  /** Of the prime vertical: times the cosine of the latitude, metres of easting for one radian of longitude. */
  readonly primeVerticalM: number;
}

/**
 * Radii of curvature of the ellipsoid at a latitude in degrees.
 * Source: standard formulas of ellipsoidal geodesy, from memory; the tests compare them with geodesics.
 */
export function radiiOfCurvature(latitudeDeg: number): Radii {
  const sine = Math.sin((latitudeDeg * Math.PI) / 180);
  const w2 = 1 - ECCENTRICITY_SQUARED * sine * sine;
  const primeVerticalM = EQUATORIAL_RADIUS_M / Math.sqrt(w2);
  return { meridianM: (primeVerticalM * (1 - ECCENTRICITY_SQUARED)) / w2, primeVerticalM };
}

/**
 * True ground metres east and north from one place to another nearby, by the mid-latitude formula.
 *
 * For places up to 1 km apart and within 84 degrees of the equator its length departs from the geodesic by
 * less than one part in ten million (tested); it is not meant for longer ones. North is true north at the
 * middle of the way.
 */
export function groundOffset(from: LngLat, to: LngLat): XY {
  const middle = (from[1] + to[1]) / 2;
  const { meridianM, primeVerticalM } = radiiOfCurvature(middle);
  const degree = Math.PI / 180;
  // The short way round, so that a lot on the 180th meridian is no exception.
  const east = ((((to[0] - from[0] + 180) % 360) + 360) % 360) - 180;
  return [
    east * degree * primeVerticalM * Math.cos(middle * degree),
    (to[1] - from[1]) * degree * meridianM,
  ];
}
