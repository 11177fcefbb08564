import type { FeatureOf } from '../../../lib/plan/schema';

export const inchM = 0.0254;

/** A soil test with readings given as minutes and inches of water; in a ring, whose fall is its rate, unless said. */
export function soilTestIn(
  readings: readonly (readonly [minutes: number, waterIn: number])[],
  properties: Partial<FeatureOf<'soil-test'>['properties']> = {},
  id = 'soil-test-1',
): FeatureOf<'soil-test'> {
  return {
    type: 'Feature',
    id,
    geometry: { type: 'Point', coordinates: [-86.6, 44.9] },
    properties: {
      kind: 'soil-test',
      method: 'ring',
      readings: readings.map(([minutes, waterIn]) => ({
        minutes,
        water_depth_m: waterIn * inchM,
      })),
      ...properties,
    },
  };
}

/** Metres a second as inches an hour. */
export function inPerH(mPerS: number | null | undefined): number {
  return ((mPerS ?? Number.NaN) * 3600) / inchM;
}
