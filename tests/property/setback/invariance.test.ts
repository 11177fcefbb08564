import { Geodesic } from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { localFrame, makeFrame, type Frame, type LngLat, type XY } from '../../../lib/frame/frame';
import { toLocal } from '../../../lib/plan/local-plan';
import type { Plan } from '../../../lib/plan/schema';
import { checkSetbacks } from '../../../lib/setback/judge/check-setbacks';
import { checkedBasins } from '../../../lib/setback/rules/checked-basins';
import { ruleSetById } from '../../../lib/setback/sets/rule-sets';
import { box, disc } from '../../unit/setback/plan-of';

/** A lot of 60 m x 40 m with one of everything that the common rules measure from, in metres about its middle. */
const drawn: readonly { id: string; properties: object; rings?: XY[][]; line?: XY[]; at?: XY }[] = [
  { id: 'lot', properties: { kind: 'lot', own: true }, rings: [box(-30, -20, 30, 20)] },
  {
    id: 'house',
    properties: { kind: 'building', foundation: 'basement' },
    rings: [box(-20, -10, -6, 4)],
  },
  { id: 'field', properties: { kind: 'septic-field' }, rings: [box(18, 8, 28, 18)] },
  { id: 'well', properties: { kind: 'well' }, at: [-27, 17] },
  {
    id: 'oak',
    properties: { kind: 'tree', trunk_diameter_m: 0.4, canopy_radius_m: 4 },
    at: [10, -14],
  },
  {
    id: 'gas',
    properties: { kind: 'utility', service: 'gas', side: 'public' },
    line: [
      [-30, -15],
      [30, -12],
    ],
  },
  { id: 'basin', properties: { kind: 'basin' }, rings: [disc([8, 3], 2.7, 32)] },
];

/** The plan at a place on the globe, laid out along geodesics so that it is truly the same lot everywhere. */
function planAt([lng0, lat0]: LngLat): Plan {
  const globe = ([x, y]: XY): LngLat => {
    const { lat2, lon2 } = Geodesic.WGS84.Direct(
      lat0,
      lng0,
      (Math.atan2(x, y) * 180) / Math.PI,
      Math.hypot(x, y),
    );
    return [lon2 ?? NaN, lat2 ?? NaN];
  };
  const features = drawn.map(({ id, properties, rings, line, at }) => ({
    type: 'Feature',
    id,
    properties,
    geometry:
      at !== undefined
        ? { type: 'Point', coordinates: globe(at) }
        : line !== undefined
          ? { type: 'LineString', coordinates: line.map(globe) }
          : {
              type: 'Polygon',
              coordinates: (rings ?? []).map((ring) => [...ring, ring[0]].map(globe)),
            },
  }));
  return { type: 'FeatureCollection', features, lotfall: { version: 1 } } as unknown as Plan;
}

/** The frame that a raster in a zone of the transverse Mercator grid gives a lot: its scale there taken out. */
function gridFrame([lng, lat]: LngLat, zone: number): Frame {
  const projection = `+proj=utm +zone=${zone} ${lat < 0 ? '+south ' : ''}+datum=WGS84 +units=m +no_defs`;
  const plain = makeFrame({ projection, originEast: 0, originNorth: 0, metresPerUnit: 1 });
  const [east, north] = plain.toLocal([lng, lat]);
  const [east2, north2] = plain.toLocal([lng, lat + 0.0005]);
  const { s12 } = Geodesic.WGS84.Inverse(lat, lng, lat + 0.0005, lng);
  const metresPerUnit = (s12 ?? NaN) / Math.hypot(east2 - east, north2 - north);
  return makeFrame({ projection, originEast: east, originNorth: north, metresPerUnit });
}

/** Every row's distance, by rule and feature. */
function distances(plan: Plan, frame: Frame): Map<string, number> {
  const local = toLocal(plan, frame);
  const { results } = checkSetbacks({
    plan: local,
    basins: checkedBasins(local),
    ruleSet: ruleSetById('default'),
    today: '2026-05-10',
  });
  return new Map(
    results.flatMap((row): [string, number][] =>
      row.measured_m === null ? [] : [[`${row.rule} ${row.feature}`, row.measured_m]],
    ),
  );
}

const home: LngLat = [-93.2, 27.2];
const expected = distances(planAt(home), makeFrame(localFrame(home)));

describe('the same lot', () => {
  it('has rows to compare', () => {
    expect([...expected.keys()]).toEqual(
      expect.arrayContaining([
        'foundation house',
        'septic field',
        'well well',
        'tree oak',
        'utility gas',
        'lot-line lot',
      ]),
    );
  });

  it.each<[string, LngLat, number]>([
    ['in its own zone', home, 15],
    ['on the central meridian of a zone', [-93, 27.2], 15],
    ['across the edge of two zones, in the western one', [-90, 27.2], 15],
    ['across the edge of two zones, in the eastern one', [-90, 27.2], 16],
    ['on the other side of the earth', [149.3, -42.9], 55],
    ['in the southern hemisphere, near a zone’s edge', [-60.0001, -45.6], 20],
    ['on the equator', [3.8, 0], 31],
    ['far north', [25.7, 74], 35],
    ['across the prime meridian', [0, 54.5], 30],
    ['close to the antimeridian', [179.99, -25.8], 60],
  ])(
    '%s measures the same to a centimetre, in the grid’s frame and in its own',
    (_, place, zone) => {
      const plan = planAt(place);
      for (const frame of [makeFrame(localFrame(place)), gridFrame(place, zone)]) {
        const found = distances(plan, frame);
        expect([...found.keys()].sort()).toEqual([...expected.keys()].sort());
        for (const [key, metres] of expected) {
          expect(Math.abs((found.get(key) ?? NaN) - metres), key).toBeLessThan(0.01);
        }
      }
    },
  );
});
