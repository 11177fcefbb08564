import { localFrame, makeFrame, type XY } from '../../lib/frame/frame';
import type { PlanJson } from './inputs';

/** Three lots of 30 by 24 m in a row from west to east, each lower than the one before; the middle one asks. */
const frame = makeFrame(localFrame([-87.2, 42.52]));
const lngLat = (xy: XY): number[] => [...frame.toLngLat(xy)];

type FeatureJson = PlanJson['features'][number];

export const area = (
  id: string,
  kind: string,
  [west, south, east, north]: readonly [number, number, number, number],
  properties: object = {},
): FeatureJson => ({
  type: 'Feature',
  id,
  geometry: {
    type: 'Polygon',
    coordinates: [
      (
        [
          [west, south],
          [east, south],
          [east, north],
          [west, north],
          [west, south],
        ] as const
      ).map(lngLat),
    ],
  },
  properties: { kind, ...properties },
});

export const line = (
  id: string,
  kind: string,
  along: readonly XY[],
  properties: object = {},
): FeatureJson => ({
  type: 'Feature',
  id,
  geometry: { type: 'LineString', coordinates: along.map(lngLat) },
  properties: { kind, ...properties },
});

export const point = (id: string, kind: string, at: XY, properties: object = {}): FeatureJson => ({
  type: 'Feature',
  id,
  geometry: { type: 'Point', coordinates: lngLat(at) },
  properties: { kind, ...properties },
});

export const place = (at: XY): number[] => lngLat(at);

/** Ground that falls 2 % to the east, with a hollow of a hand's depth at the west wall of the house. */
export const hollowAtWall = ([x, y]: XY): number =>
  20 - 0.02 * x - 0.22 * Math.exp(-((x - 8) ** 2 + (y - 12) ** 2) / 10);

export const evenFall = ([x]: XY): number => 20 - 0.02 * x;

/** Readings on a grid over all three lots, closer about the hollow. */
export function levels(heightM: (at: XY) => number, properties: object = {}): FeatureJson[] {
  const grid = [-30, -20, -10, 0, 10, 20, 30, 40, 50, 60].flatMap((x) =>
    [-2, 6, 12, 18, 26].map((y): XY => [x, y]),
  );
  const close = [4, 6, 8, 12].flatMap((x) => [9, 10.5, 13.5, 15].map((y): XY => [x, y]));
  return [...grid, ...close, [8, 12] as XY].map((at, i) =>
    point(`level-${i + 1}`, 'spot-height', at, {
      elevation_m: Math.round(1000 * heightM(at)) / 1000,
      ...properties,
    }),
  );
}

export const lots = [
  area('uphill', 'lot', [-30, 0, 0, 24], { own: false, name: 'Larch Bank 1' }),
  area('own', 'lot', [0, 0, 30, 24], { own: true, name: 'Larch Bank 3' }),
  area('downhill', 'lot', [30, 0, 60, 24], { own: false, name: 'Larch Bank 5' }),
];
export const house = area('house', 'building', [9.5, 8, 19, 17], {
  foundation: 'basement',
  name: 'House',
});
export const roof = area('roof', 'roof', [9.5, 8, 19, 17], { building: 'house' });
export const garden = area('garden', 'basin', [22, 5, 28, 10], {
  ponding_depth_m: 0.15,
  name: 'Garden',
});

/** A plan of what is given. */
export function planOf(features: readonly FeatureJson[], settings: object = {}): PlanJson {
  return {
    type: 'FeatureCollection',
    lotfall: {
      version: 1,
      name: 'Larch Bank 3',
      storm: { rain_mm: 40, duration_h: 24 },
      soil: { group: 'C' },
      ...settings,
    },
    features: [...features],
  };
}
