import type { LngLat, XY } from './frame';
import { groundOffset } from './ground-offset';

/** How a map projection renders the ground around one place, measured from the ground itself. */
export interface LocalDistortion {
  /** Ground metres for one unit of the projection along its east axis. */
  readonly eastMetresPerUnit: number;
  /** Ground metres for one unit along its north axis. */
  readonly northMetresPerUnit: number;
  /** Cosine of the angle between the two axes on the ground; 0 when they are perpendicular. */
  readonly skew: number;
  /** Whether the axes turn the usual way round: north lies to the left of east. */
  readonly rightHanded: boolean;
  /** Direction of the projection's north axis on the ground, degrees clockwise from true north. */
  readonly northBearingDeg: number;
}

/** How far the two scales or the right angle may be off for a projection to count as a similarity. */
const SIMILARITY_TOLERANCE = 1e-4;

/**
 * Measures a projection's scale in both directions and the angle of its axes at a place, by central
 * differences over short ground distances.
 *
 * @param toLngLat - inverse of the projection.
 * @param at - the place, in units of the projection.
 * @param step - half the length over which to measure, in units of the projection; 50 m or so on the ground.
 */
export function localDistortion(
  toLngLat: (point: XY) => LngLat,
  at: XY,
  step: number,
): LocalDistortion {
  const [x, y] = at;
  const [ex, ey] = groundOffset(toLngLat([x - step, y]), toLngLat([x + step, y]));
  const [nx, ny] = groundOffset(toLngLat([x, y - step]), toLngLat([x, y + step]));
  const east = Math.hypot(ex, ey);
  const north = Math.hypot(nx, ny);
  return {
    eastMetresPerUnit: east / (2 * step),
    northMetresPerUnit: north / (2 * step),
    skew: (ex * nx + ey * ny) / (east * north),
    rightHanded: ex * ny - ey * nx > 0,
    northBearingDeg: (Math.atan2(nx, ny) * 180) / Math.PI,
  };
}

/** Whether squares stay squares there, to one part in ten thousand: a lot drawn so keeps its shape. */
export function isSimilarity(distortion: LocalDistortion): boolean {
  const { eastMetresPerUnit, northMetresPerUnit, skew, rightHanded } = distortion;
  return (
    rightHanded &&
    Math.abs(eastMetresPerUnit / northMetresPerUnit - 1) < SIMILARITY_TOLERANCE &&
    Math.abs(skew) < SIMILARITY_TOLERANCE
  );
}

/** Ground metres for one unit of a projection that is a similarity at the place. */
export function metresPerUnit(distortion: LocalDistortion): number {
  return (distortion.eastMetresPerUnit + distortion.northMetresPerUnit) / 2;
}
