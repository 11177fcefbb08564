import { describe, expect, it } from 'vitest';
import type { XY } from '../../../../lib/frame/frame';
import { areaM2, contains } from '../../../../lib/frame/shapes';
import { checkedBasins } from '../../../../lib/setback/rules/checked-basins';
import { digArea, rectangleAround } from '../../../../lib/setback/locate/dig-area';
import { handDigZones } from '../../../../lib/setback/locate/hand-dig-zones';
import { locateRequest } from '../../../../lib/setback/locate/locate-request';
import { locateRequestText } from '../../../../lib/setback/locate/locate-request-text';
import { box, frame, planOf, type Drawn } from '../plan-of';

const today = '2026-05-10';
const basin: Drawn = {
  id: 'b',
  properties: { kind: 'basin', name: 'Garden' },
  rings: [box(0, 0, 6, 4)],
};
const house: Drawn = {
  id: 'h',
  properties: { kind: 'building', name: 'House' },
  rings: [box(-30, -2, -12, 8)],
};
const lot: Drawn = {
  id: 'lot',
  properties: { kind: 'lot', own: true, name: '12 Elm Lane' },
  rings: [box(-40, -20, 40, 20)],
};
const byPublic = { by: 'public', on: '2026-05-01', until: '2026-05-20' };
const line = (id: string, y: number, more: object): Drawn => ({
  id,
  properties: { kind: 'utility', service: 'gas', ...more },
  line: [
    [-40, y],
    [40, y],
  ],
});

describe('digArea', () => {
  it('is the rim with its berm and a working margin', async () => {
    const plan = planOf(basin);
    const [checked] = checkedBasins(plan);
    const area = await digArea(plan, [{ ...checked, bermWidthM: 0.5 }], 1);
    const reach = 1.5;
    expect(area.areaM2).toBeCloseTo(24 + 2 * reach * 10 + Math.PI * reach ** 2, 1);
    expect(area.parts).toEqual(['Garden with its berm']);
    expect(area.polygons).toHaveLength(1);
  });

  it('takes in the notch and the trench that leads to it, each place once', async () => {
    const notched = planOf(
      { ...basin, properties: { ...basin.properties, overflow: frame.toLngLat([6, 2]) } },
      {
        id: 'pipe',
        properties: { kind: 'drain-pipe', name: 'lead', diameter_m: 0.1 },
        line: [
          [-12, 2],
          [0, 2],
        ],
      },
      {
        id: 'far',
        properties: { kind: 'drain-pipe' },
        line: [
          [0, 30],
          [9, 30],
        ],
      },
    );
    const area = await digArea(notched, [{ id: 'b', rim: box(0, 0, 6, 4), bermWidthM: 0.5 }], 1);
    expect(area.parts).toEqual([
      'b with its berm',
      'the notch of its overflow',
      'the trench of lead',
    ]);
    expect(area.polygons).toHaveLength(1);
    const within = (at: XY): boolean => area.polygons.some((rings) => contains(rings, at));
    expect(within([-12.5, 2])).toBe(true);
    expect(within([-10, 3.1])).toBe(true);
    expect(within([-10, 3.2])).toBe(false);
    expect(within([7.9, 2])).toBe(true);
    expect(within([9, 30])).toBe(false);
    expect(area.areaM2).toBeCloseTo(
      area.polygons.reduce((sum, rings) => sum + areaM2(rings), 0),
      9,
    );
  });
});

describe('rectangleAround', () => {
  it('turns with what it goes around', () => {
    const turned = box(-5, -1, 5, 1).map(([x, y]): XY => [
      x * Math.cos(0.7) - y * Math.sin(0.7),
      x * Math.sin(0.7) + y * Math.cos(0.7),
    ]);
    const found = rectangleAround([[turned]]);
    expect(areaM2([found])).toBeGreaterThan(19.999);
    expect(areaM2([found])).toBeLessThan(20.2);
  });
});

describe('handDigZones', () => {
  it('reach the tolerance, half the width and the accuracy to each side', async () => {
    const plan = planOf(line('gas', 10, { diameter_m: 0.1, accuracy_m: 0.3 }));
    const [zone] = await handDigZones(plan, 0.4572, today);
    expect(zone).toMatchObject({ feature: 'gas', service: 'gas', state: 'never' });
    expect(zone.reachM).toBeCloseTo(0.8072, 9);
    expect(zone.areaM2).toBeCloseTo(2 * 0.8072 * 80 + Math.PI * 0.8072 ** 2, 1);
  });
});

describe('locateRequest', () => {
  const request = (...drawn: Drawn[]) => {
    const plan = planOf(lot, house, basin, ...drawn);
    const basins = checkedBasins(plan).map((each) => ({ ...each, bermWidthM: 0.5 }));
    return locateRequest({ plan, basins, toleranceM: 0.4572, services: ['gas'], today });
  };

  it('says where: area, corners, and the way from the house', async () => {
    const found = await request();
    expect(found.lot).toBe('12 Elm Lane');
    expect(found.sides_m[0]).toBeCloseTo(9, 1);
    expect(found.sides_m[1]).toBeCloseTo(7, 1);
    expect(found.corners).toHaveLength(4);
    for (const corner of found.corners) {
      const [x, y] = frame.toLocal(corner);
      expect(Math.min(Math.abs(x + 1.5), Math.abs(x - 7.5))).toBeLessThan(0.02);
      expect(Math.min(Math.abs(y + 1.5), Math.abs(y - 5.5))).toBeLessThan(0.02);
    }
    expect(found.from_buildings[0]).toMatchObject({ name: 'House', direction: 'east' });
    expect(found.from_buildings[0].distance_m).toBeCloseTo(10.5, 1);
  });

  it('asks both parties while no line is drawn', async () => {
    const { ask } = await request();
    expect(ask.map(({ by, needed }) => [by, needed])).toEqual([
      ['public', true],
      ['private', true],
    ]);
  });

  it('asks nobody again while locates are current, and says until when', async () => {
    const { ask } = await request(
      line('gas', 10, { side: 'public', located: byPublic }),
      line('gas2', 12, { side: 'public', located: { ...byPublic, until: '2026-05-15' } }),
      line('light', -10, { side: 'private', located: { ...byPublic, by: 'private' } }),
    );
    expect(ask.map((each) => each.needed)).toEqual([false, false]);
    expect(ask.map((each) => each.valid_until)).toEqual(['2026-05-15', '2026-05-20']);
  });

  it('asks for a line whose locate has run out or came from the other party', async () => {
    const { ask } = await request(
      line('gas', 10, { side: 'public', located: { ...byPublic, until: '2026-05-09' } }),
      line('light', -10, { side: 'private', located: byPublic }),
    );
    expect(ask[0]).toMatchObject({ needed: true, valid_until: null });
    expect(ask[0].lines[0]).toMatchObject({ state: 'expired', colour: 'yellow', letter: 'G' });
    expect(ask[1].lines.map(({ feature, state }) => [feature, state])).toEqual([
      ['light', 'wrong-party'],
    ]);
  });

  it('tells which lines run through the dig and which need hand tools', async () => {
    const { ask } = await request(
      line('through', 2, { side: 'public' }),
      line('beside', 5.9, { side: 'public' }),
      line('clear', 6.2, { side: 'public' }),
    );
    expect(ask[0].lines.map((each) => each.hand_dig)).toEqual([true, true, false]);
    expect(ask[0].lines[0].distance_m).toBe(0);
    expect(ask[0].lines[2].distance_m).toBeCloseTo(0.7, 2);
  });

  it('is plain text for the telephone, in either system of units', async () => {
    const found = await request(line('through', 2, { side: 'public', name: 'Gas main' }));
    const text = locateRequestText(found, 'metric');
    expect(text).toMatch(
      /^Locate request for 12 Elm Lane, 2026-05-10\nTo be dug: Garden with its berm/,
    );
    expect(text).toMatch(/Its corners \(latitude, longitude\): 44\.\d{6}, -86\.\d{6};/);
    expect(text).toMatch(/^10\.50 m east of House\.$/m);
    expect(text).toMatch(/Gas main \(gas, yellow, G, long dashes\): not located yet; runs through/);
    expect(text).toMatch(/white where you mean to dig/);
    expect(text).toMatch(/United Kingdom the colours of the ducts differ/);
    expect(text).not.toMatch(/NaN|undefined|null|Infinity/);
    expect(locateRequestText(found, 'us')).toMatch(/^34 ft 5 in east of House\.$/m);
  });
});
