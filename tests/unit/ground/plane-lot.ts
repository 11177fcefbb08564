import type { Grid } from '../../../lib/elevation/grid';
import { localFrame, makeFrame, type LngLat, type XY } from '../../../lib/frame/frame';
import { toLocal, type LocalPlan } from '../../../lib/plan/local-plan';
import type { Plan, PlanFeature, Settings } from '../../../lib/plan/schema';

/** The frame of all made-up lots of the tests. */
export const frame = makeFrame(localFrame([-87, 44.2]));

/** Ground from a height for each place, metres; cells of `cellM` over `widthM` by `heightM`, south-west corner at the origin. */
export function groundOf(
  widthM: number,
  heightM: number,
  cellM: number,
  height: (x: number, y: number) => number,
): Grid {
  const width = Math.round(widthM / cellM);
  const rows = Math.round(heightM / cellM);
  const z = new Float32Array(width * rows);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < width; column++) {
      z[row * width + column] = height((column + 0.5) * cellM, heightM - (row + 0.5) * cellM);
    }
  }
  return {
    width,
    height: rows,
    cellM,
    westM: 0,
    northM: heightM,
    z,
    datumM: 100,
    frame: frame.spec,
  };
}

/** A rectangle of local metres. */
export function box(west: number, south: number, east: number, north: number): XY[] {
  return [
    [west, south],
    [east, south],
    [east, north],
    [west, north],
  ];
}

/** A polygon feature from local metres. */
export function polygonFeature(id: string, ring: readonly XY[], properties: object): PlanFeature {
  const coordinates = [[...ring, ring[0]].map((at): LngLat => frame.toLngLat(at))];
  return {
    type: 'Feature',
    id,
    geometry: { type: 'Polygon', coordinates },
    properties,
  } as PlanFeature;
}

/** A line feature from local metres. */
export function lineFeature(id: string, line: readonly XY[], properties: object): PlanFeature {
  const coordinates = line.map((at): LngLat => frame.toLngLat(at));
  return {
    type: 'Feature',
    id,
    geometry: { type: 'LineString', coordinates },
    properties,
  } as PlanFeature;
}

/** A point feature from local metres. */
export function pointFeature(id: string, at: XY, properties: object): PlanFeature {
  return {
    type: 'Feature',
    id,
    geometry: { type: 'Point', coordinates: frame.toLngLat(at) },
    properties,
  } as PlanFeature;
}

/** A plan in local metres, frozen so that nothing can change it. */
export function planOf(
  features: readonly PlanFeature[],
  settings: Partial<Settings> = {},
): LocalPlan {
  const plan: Plan = {
    type: 'FeatureCollection',
    features,
    lotfall: { version: 1, soil: { group: 'C' }, ground_condition: 'good', ...settings },
  };
  return toLocal(Object.freeze(plan), frame);
}
