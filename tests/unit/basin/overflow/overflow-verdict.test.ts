import type { MultiPolygon } from 'geojson';
import { describe, expect, it } from 'vitest';
import {
  overflowVerdict,
  type CrossedLowSpot,
} from '../../../../lib/basin/overflow/overflow-verdict';
import type { XY } from '../../../../lib/frame/frame';
import type { PlanFeature } from '../../../../lib/plan/schema';
import { box, frame, lineOf, planOf, pointOf, polygonOf } from '../../ground/plane-lot';

/** A lot of 40 by 30 m with a neighbour to the east, a basin in its middle; the street lies to the south. */
const lots = [
  polygonOf('own', box(0, 0, 40, 30), { kind: 'lot', own: true }),
  polygonOf('next', box(40, 0, 80, 30), { kind: 'lot', own: false, name: 'Lot 14' }),
  polygonOf('basin', box(18, 12, 24, 16), { kind: 'basin' }),
];
const south: XY[] = [
  [21, 12],
  [21, 5],
  [22, -6],
];
const east: XY[] = [
  [24, 14],
  [60, 14],
];

function verdict(
  path: readonly XY[],
  more: readonly PlanFeature[] = [],
  spots: CrossedLowSpot[] = [],
) {
  const plan = planOf([...lots, ...more]);
  return overflowVerdict(over(path), plan, 'basin', spots);
}

/** A way over the ground alone, to the edge of the data. */
function over(points: readonly XY[]): Parameters<typeof overflowVerdict>[0] {
  return { legs: [{ by: 'ground', drain: null, points }], ends: 'edge-of-data' };
}

function spot(id: string, ring: readonly XY[]): CrossedLowSpot {
  const closed = [...ring, ring[0]].map((at) => [...frame.toLngLat(at)]);
  const outline: MultiPolygon = { type: 'MultiPolygon', coordinates: [[closed]] };
  return { id, outline };
}

describe('where overflow ends', () => {
  it('may leave the lot for the street', () => {
    const found = verdict(south);
    expect(found).toMatchObject({ reaches: 'street', feature: null, result: 'pass' });
    expect(frame.toLocal(found.at!)[1]).toBeCloseTo(0, 0);
    expect(found.alongM).toBeCloseTo(12, 0);
  });

  it('must not run onto a neighbour', () => {
    const found = verdict(east);
    expect(found).toMatchObject({ reaches: 'neighbour', feature: 'next', result: 'fail' });
    expect(found.why).toMatch(/^Overflow, when full, runs onto Lot 14: /);
    expect(frame.toLocal(found.at!)[0]).toBeCloseTo(40, 0);
  });

  it('may run over the lot that the basin lies on, whoever owns that', () => {
    const there = polygonOf('basin', box(50, 12, 56, 16), { kind: 'basin' });
    const plan = planOf([...lots.slice(0, 2), there]);
    const from = (...points: XY[]) => overflowVerdict(over(points), plan, 'basin');
    expect(from([53, 12], [53, 5], [53, -6])).toMatchObject({ reaches: 'street', result: 'pass' });
    expect(from([56, 14], [70, 14])).toMatchObject({ reaches: 'edge-of-data', result: 'check' });
    // a basin that reaches over the line lies where most of it does
    const over40 = polygonOf('basin', box(38, 12, 46, 16), { kind: 'basin' });
    expect(
      overflowVerdict(
        over([
          [46, 14],
          [70, 14],
        ]),
        planOf([...lots.slice(0, 2), over40]),
        'basin',
      ),
    ).toMatchObject({ reaches: 'edge-of-data' });
  });

  it('may run into a swale or a watercourse on the way to the neighbour', () => {
    const swale = lineOf(
      'sw',
      [
        [35, 0],
        [35, 30],
      ],
      { kind: 'swale', width_m: 1.8 },
    );
    expect(verdict(east, [swale])).toMatchObject({
      reaches: 'swale',
      feature: 'sw',
      result: 'pass',
    });
    const brook = lineOf(
      'br',
      [
        [36, 0],
        [36, 30],
      ],
      { kind: 'watercourse' },
    );
    expect(verdict(east, [brook])).toMatchObject({ reaches: 'watercourse', result: 'pass' });
  });

  it('reaches nothing in a pipe, and is looked at again where that lets it out', () => {
    const inlet: XY = [30, 14];
    const piped = (outlet: XY, onward: XY) =>
      overflowVerdict(
        {
          legs: [
            { by: 'ground', drain: null, points: [[24, 14], inlet] },
            // below the neighbour's lot
            { by: 'pipe', drain: 'yd', points: [inlet, [50, 8], outlet] },
            { by: 'ground', drain: null, points: [outlet, onward] },
          ],
          ends: 'edge-of-data',
        },
        planOf(lots),
        'basin',
      );
    const onto = piped([50, 4], [50, -6]);
    expect(onto).toMatchObject({ reaches: 'neighbour', feature: 'next', result: 'fail' });
    expect(onto.alongM).toBeCloseTo(6 + Math.hypot(20, 6) + 4, 1);
    const street = piped([30, 4], [30, -6]);
    expect(street).toMatchObject({ reaches: 'street', result: 'pass' });
    expect(street.alongM).toBeGreaterThan(6 + 40);
    const sewer = overflowVerdict(
      {
        legs: [
          { by: 'ground', drain: null, points: [[24, 14], inlet] },
          { by: 'pipe', drain: 'yd', points: [inlet] },
        ],
        ends: 'storm-sewer',
      },
      planOf(lots),
      'basin',
      [spot('low-2-2', box(28, 12, 32, 16))],
    );
    expect(sewer).toMatchObject({ reaches: 'storm-sewer', feature: 'yd', result: 'pass' });
  });

  it('must keep 3 m from a foundation, and off any building', () => {
    const house = (east: number, foundation?: string) =>
      polygonOf('house', box(east, 2, east + 8, 9), { kind: 'building', foundation });
    expect(verdict(south, [house(23.9, 'basement')])).toMatchObject({
      reaches: 'foundation',
      feature: 'house',
      result: 'fail',
    });
    expect(verdict(south, [house(25.2, 'basement')]).result).toBe('pass');
    expect(verdict(south, [house(23.9, 'none')]).result).toBe('pass');
    expect(verdict(south, [house(21.2, 'none')])).toMatchObject({
      reaches: 'building',
      result: 'fail',
    });
    expect(verdict(south, [house(23.9)]).why).toMatch(/foundation is not stated/);
  });

  it('must not run over a septic field, nor by a tank or a well', () => {
    const field = polygonOf('f', box(19, 2, 24, 6), { kind: 'septic-field' });
    expect(verdict(south, [field])).toMatchObject({
      reaches: 'septic-field',
      feature: 'f',
      result: 'fail',
    });
    const tank = pointOf('t', [22, 8], { kind: 'septic-tank' });
    expect(verdict(south, [tank]).reaches).toBe('septic-tank');
    const well = pointOf('w', [23, 8], { kind: 'well' });
    expect(verdict(south, [well]).reaches).toBe('well');
  });

  it('is held up by a low spot of its own, and still followed to what is worse', () => {
    const low = spot('low-3-4', box(30, 12, 34, 16));
    const found = verdict(east, [], [low]);
    expect(found).toMatchObject({ reaches: 'neighbour', result: 'fail' });
    expect(found.why).toMatch(/fills a low spot/);
    const southLow = spot('low-1-1', box(20, 3, 22, 6));
    const held = verdict(south, [], [southLow]);
    expect(held).toMatchObject({ reaches: 'low-spot', feature: 'low-1-1', result: 'check' });
    expect(held.why).toMatch(/Then: overflow leaves the lot/);
    const own = spot('low-9-9', box(18.5, 11.5, 23.5, 15.5));
    expect(verdict(south, [], [own]).result).toBe('pass');
  });

  it('is not known where the data end first, or no neighbour is drawn', () => {
    expect(verdict(south.slice(0, 2))).toMatchObject({ reaches: 'edge-of-data', result: 'check' });
    expect(verdict([])).toMatchObject({ reaches: 'edge-of-data', result: 'check', at: null });
    const alone = planOf(lots.filter(({ id }) => id !== 'next'));
    expect(overflowVerdict(over(south), alone, 'basin')).toMatchObject({
      reaches: 'street',
      result: 'check',
    });
  });

  it('names another basin and a wetland for a look', () => {
    const second = polygonOf('b2', box(20, 3, 23, 7), { kind: 'basin' });
    expect(verdict(south, [second])).toMatchObject({
      reaches: 'basin',
      feature: 'b2',
      result: 'check',
    });
    const wetland = polygonOf('w', box(20, 3, 23, 7), { kind: 'wetland' });
    expect(verdict(south, [wetland]).reaches).toBe('wetland');
  });
});
