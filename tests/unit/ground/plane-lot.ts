import type { Grid } from '../../../lib/elevation/grid';
import type { Elevation } from '../../../lib/elevation/window/read-window';
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

/** Made-up ground as if it had been read from a file of the same cells. */
export function elevationOf(grid: Grid): Elevation {
  return {
    grid,
    notes: [],
    edges: { west: 'data', south: 'data', east: 'data', north: 'data' },
    filled: { mask: null, count: 0, areaM2: 0 },
    source: 'made up',
    systemName: 'local',
    written: null,
    marginM: 0,
    sourceCellM: grid.cellM,
    resampled: false,
    vertical: { metres: 1, name: 'metre', known: 'given' },
    lowestM: grid.datumM + Math.min(...grid.z),
    highestM: grid.datumM + Math.max(...grid.z),
    statedErrorM: null,
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

function featureOf(
  id: string,
  type: string,
  coordinates: unknown,
  properties: object,
): PlanFeature {
  return { type: 'Feature', id, geometry: { type, coordinates }, properties } as PlanFeature;
}

/** A polygon feature from local metres. */
export function polygonOf(id: string, ring: readonly XY[], properties: object): PlanFeature {
  const corners = [...ring, ring[0]].map((at): LngLat => frame.toLngLat(at));
  return featureOf(id, 'Polygon', [corners], properties);
}

/** A line feature from local metres. */
export function lineOf(id: string, line: readonly XY[], properties: object): PlanFeature {
  const points = line.map((at): LngLat => frame.toLngLat(at));
  return featureOf(id, 'LineString', points, properties);
}

/** A point feature from local metres. */
export function pointOf(id: string, at: XY, properties: object): PlanFeature {
  return featureOf(id, 'Point', frame.toLngLat(at), properties);
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
