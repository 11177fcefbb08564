import { localFrame, makeFrame, type XY } from '../../lib/frame/frame';
import type { PlanJson } from './inputs';

const frame = makeFrame(localFrame([-87.1, 42.51]));
const ring = (corners: readonly XY[]) => [[...corners, corners[0]].map((xy) => frame.toLngLat(xy))];

/** A yard of 30 by 24 m that falls to the south-east, with a hollow of a hand's depth at the wall of its house. */
const heightM = ([x, y]: XY): number =>
  20 - 0.02 * x + 0.01 * y - 0.2 * Math.exp(-((x - 12) ** 2 + (y - 10.5) ** 2) / 9);

const places: readonly XY[] = [
  ...[-1, 7, 15, 23, 31].flatMap((x) => [-1, 8, 17, 25].map((y): XY => [x, y])),
  [12, 10.5],
  [10, 10],
  [14, 10],
  [12, 8.5],
  [9, 9],
  [15.5, 9],
];

/** A plan with a lot, a house, a basin and levels, each with the properties that a reading of its height gives; null leaves it out. */
export function yard(readings: (height: number, i: number) => object | null): PlanJson {
  const area = (id: string, kind: string, corners: readonly XY[], properties = {}) => ({
    type: 'Feature' as const,
    id,
    geometry: { type: 'Polygon', coordinates: ring(corners) },
    properties: { kind, ...properties },
  });
  return {
    type: 'FeatureCollection',
    lotfall: { version: 1, name: 'Tern Row 3', storm: { rain_mm: 30 }, soil: { group: 'C' } },
    features: [
      area(
        'lot',
        'lot',
        [
          [0, 0],
          [30, 0],
          [30, 24],
          [0, 24],
        ],
        { own: true, name: 'Tern Row 3' },
      ),
      area(
        'house',
        'building',
        [
          [8, 11],
          [19, 11],
          [19, 19],
          [8, 19],
        ],
        { foundation: 'slab' },
      ),
      area(
        'garden',
        'basin',
        [
          [22, 3],
          [27, 3],
          [27, 6],
          [22, 6],
        ],
        { ponding_depth_m: 0.15 },
      ),
      ...places.flatMap((xy, i) => {
        const properties = readings(heightM(xy), i);
        if (properties === null) return [];
        return [
          {
            type: 'Feature' as const,
            id: `spot-height-${i + 1}`,
            geometry: { type: 'Point', coordinates: frame.toLngLat(xy) },
            properties: { kind: 'spot-height', ...properties },
          },
        ];
      }),
    ],
  };
}

/** Drops below a string, to the centimetre. */
export const drops = (height: number) => ({ drop_m: Math.round(100 * (21 - height)) / 100 });
