import { describe, expect, it } from 'vitest';
import { movedBy, turnedAbout } from '../../../../lib/drawing/move-shape';
import { localFrame, makeFrame, type LngLat, type XY } from '../../../../lib/frame/frame';
import { areaM2, boundsOf } from '../../../../lib/frame/shapes';
import { applyChange, type Change } from '../../../../lib/plan/change';
import { readPlan } from '../../../../lib/plan/read-plan';
import type { Plan, PlanFeature } from '../../../../lib/plan/schema';
import { writePlan } from '../../../../lib/plan/write-plan';
import {
  addedBy,
  downspoutsAt,
  holing,
  joining,
  lengthening,
  middleOf,
  moving,
  offsetting,
  removing,
  roofing,
  splitting,
  stating,
  unlocked,
  type Changed,
} from '../../../../src/app/state/plan/change-features';

const frame = makeFrame(localFrame([-87.1, 42.5]));
const at = (...[x, y]: XY): LngLat => {
  const [lng, lat] = frame.toLngLat([x, y]);
  return [Number(lng.toFixed(9)), Number(lat.toFixed(9))];
};

function box(west: number, south: number, east: number, north: number): LngLat[] {
  return [at(west, south), at(east, south), at(east, north), at(west, north), at(west, south)];
}

function feature(id: string, kind: string, coordinates: unknown, more = {}): unknown {
  const type = { tree: 'Point', downspout: 'Point', wall: 'LineString' }[kind] ?? 'Polygon';
  return {
    type: 'Feature',
    id,
    geometry: { type, coordinates: type === 'Polygon' ? [coordinates] : coordinates },
    properties: { kind, ...more },
  };
}

const plan: Plan = readPlan(
  JSON.stringify({
    type: 'FeatureCollection',
    lotfall: { version: 1 },
    features: [
      feature('lot-1', 'lot', box(-5, -5, 40, 30), { own: true }),
      feature('house', 'building', box(0, 0, 10, 6), { foundation: 'slab' }),
      feature('annexe', 'building', box(10, 0, 14, 6)),
      feature('shed', 'building', box(20, 20, 22, 22)),
      feature('roof', 'roof', box(0, 0, 10, 6), {
        building: 'house',
        ridge: [at(0, 3), at(10, 3)],
      }),
      feature('spout', 'downspout', at(10, 6), { roof: 'roof', outlet: at(12, 8) }),
      feature('oak', 'tree', at(30, 5)),
      feature('fence', 'wall', [at(0, -2), at(10, -2), at(10, -4)]),
    ],
  }),
  'test plan',
).plan;

/** The plan after a change, which must be one that can be opened again and undone. */
function after(changed: Changed): Plan {
  if (typeof changed === 'string') throw new Error(changed);
  const { plan: next, inverse } = applyChange(plan, changed);
  expect(readPlan(writePlan(next), 'changed').plan.features).toHaveLength(next.features.length);
  expect(applyChange(next, inverse).plan).toEqual(plan);
  return next;
}
function find(within: Plan, id: string): PlanFeature {
  const found = within.features.find((each) => each.id === id);
  if (found === undefined) throw new Error(`No ${id}`);
  return found;
}
function rings(within: Plan, id: string): XY[][] {
  const { geometry } = find(within, id);
  if (geometry.type !== 'Polygon') throw new Error(`${id} is no outline`);
  return geometry.coordinates.map((ring) => ring.slice(0, -1).map((place) => frame.toLocal(place)));
}
function label(changed: Changed): string {
  return (changed as Change).label;
}

describe('moving', () => {
  it('takes the places along that features name', () => {
    const ids = ['house', 'roof', 'spout'];
    const changed = moving(plan, ids, movedBy(3, 1), frame, 'move', false);
    const next = after(changed);
    expect(label(changed)).toBe('move 3 features');
    expect(boundsOf(rings(next, 'house')[0]).west).toBeCloseTo(3, 3);
    const spout = find(next, 'spout').properties as unknown as { outlet: LngLat };
    expect(frame.toLocal(spout.outlet)[0]).toBeCloseTo(15, 3);
    const roof = find(next, 'roof').properties as unknown as { ridge: LngLat[] };
    expect(frame.toLocal(roof.ridge[0])[1]).toBeCloseTo(4, 3);
  });

  it('turns about the middle of all', () => {
    const middle = middleOf([find(plan, 'house')], frame) ?? [0, 0];
    expect(middle[0]).toBeCloseTo(5, 3);
    const next = after(moving(plan, ['house'], turnedAbout(middle, 90), frame, 'turn', false));
    const { west, east, south, north } = boundsOf(rings(next, 'house')[0]);
    [west, east, south, north].forEach((edge, i) => {
      expect(edge).toBeCloseTo([2, 8, -2, 8][i], 3);
    });
  });

  it('as a copy refers to the copies', () => {
    const changed = moving(plan, ['house', 'roof', 'spout'], movedBy(0, 12), frame, 'move', true);
    const next = after(changed);
    expect(addedBy(plan, changed as Change)).toEqual(['building-1', 'roof-1', 'downspout-1']);
    expect(find(next, 'roof-1').properties).toMatchObject({ building: 'building-1' });
    expect(find(next, 'downspout-1').properties).toMatchObject({ roof: 'roof-1' });
    expect(find(next, 'house')).toBe(find(plan, 'house'));
  });

  it('copies a lot as a neighbour: one is planned', () => {
    const next = after(moving(plan, ['lot-1'], movedBy(50, 0), frame, 'move', true));
    expect(find(next, 'lot-2').properties).toMatchObject({ own: false });
  });
});

describe('taking out', () => {
  it('several are one change, with what hangs on them', () => {
    const changed = removing(plan, ['roof', 'oak', 'spout']);
    expect(label(changed)).toBe('delete 3 features');
    const next = after(changed);
    expect(next.features.map(({ id }) => id)).toEqual([
      'lot-1',
      'house',
      'annexe',
      'shed',
      'fence',
    ]);
    const withoutHouse = after(removing(plan, ['house', 'annexe']));
    expect(find(withoutHouse, 'roof').properties).not.toHaveProperty('building');
  });
});

describe('outlines', () => {
  it('are offset with their corners', async () => {
    const next = after(await offsetting(plan, 'shed', 0.5, frame, true));
    expect(areaM2(rings(next, 'building-1'))).toBeCloseTo(9, 2);
    expect(await offsetting(plan, 'shed', -1.2, frame, false)).toMatch(/^Nothing is left/);
    const beside = after(await offsetting(plan, 'fence', 1, frame, false));
    const { geometry } = find(beside, 'fence');
    if (geometry.type !== 'LineString') throw new Error('No line');
    expect(frame.toLocal(geometry.coordinates[1])[1]).toBeCloseTo(-3, 3);
  });

  it('are split by a line, the larger piece staying what it was', async () => {
    const next = after(await splitting(plan, 'house', [at(4, -1), at(4, 7)], frame));
    expect(areaM2(rings(next, 'house'))).toBeCloseTo(36, 2);
    expect(areaM2(rings(next, 'building-1'))).toBeCloseTo(24, 2);
    expect(find(next, 'building-1').properties).toMatchObject({ foundation: 'slab' });
    expect(await splitting(plan, 'house', [at(4, 1), at(4, 3)], frame)).toMatch(/does not cross/);
  });

  it('are joined where they touch, and what referred to either refers to the one', async () => {
    const changed = await joining(plan, ['annexe', 'house'], frame);
    const next = after(changed);
    expect(label(changed)).toBe('join 2 × building');
    expect(areaM2(rings(next, 'house'))).toBeCloseTo(84, 1);
    expect(await joining(plan, ['house', 'shed'], frame)).toMatch(/do not touch/);
    expect(await joining(plan, ['house', 'roof'], frame)).toMatch(/same kind/);
  });

  it('take a hole that lies inside, and refuse one that does not', () => {
    const next = after(holing(plan, 'house', box(2, 2, 4, 4).slice(0, -1)));
    expect(areaM2(rings(next, 'house'))).toBeCloseTo(56, 2);
    expect(holing(plan, 'house', box(8, 2, 12, 4).slice(0, -1))).toMatch(/not inside it|crosses/);
  });

  it('take a typed length on a side', () => {
    const next = after(lengthening(plan, 'house', 0, 12, 'end', frame));
    expect(boundsOf(rings(next, 'house')[0]).east).toBeCloseTo(12, 3);
    expect(areaM2(rings(next, 'house'))).toBeCloseTo(72, 2);
    expect(lengthening(plan, 'house', 0, 0, 'end', frame)).toMatch(/at least 1 cm/);
  });
});

describe('roofs', () => {
  it('are made of walls with eaves', async () => {
    const next = after(await roofing(plan, 'shed', 0.45, frame));
    expect(find(next, 'roof-1').properties).toMatchObject({ building: 'shed' });
    expect(areaM2(rings(next, 'roof-1'))).toBeCloseTo(2.9 ** 2, 2);
    expect(await roofing(plan, 'shed', -1, frame)).toMatch(/0 or more/);
  });

  it('get downspouts at several corners at once', () => {
    const changed = downspoutsAt(plan, 'roof', [0, 2]);
    expect(label(changed)).toBe('set 2 downspouts');
    const next = after(changed);
    expect(find(next, 'downspout-2').properties).toMatchObject({ roof: 'roof' });
    expect(downspoutsAt(plan, 'roof', [])).toMatch(/^Choose the corners/);
  });
});

it('what is locked is left alone', () => {
  expect(unlocked(plan, ['house', 'oak', 'shed'], new Set(['building']))).toEqual(['oak']);
});

describe('what is to come and what is to go', () => {
  it('is said of several at once, and taken back to the plan as it was', () => {
    const proposed = after(stating(plan, ['house', 'annexe'], 'proposed'));
    expect(find(proposed, 'house').properties.state).toBe('proposed');
    expect(find(proposed, 'annexe').properties.state).toBe('proposed');
    const back = stating(proposed, ['house', 'annexe'], 'existing') as Change;
    expect(applyChange(proposed, back).plan).toEqual(plan);
  });

  it('is no change where the plan says it already', () => {
    expect(stating(plan, ['house'], 'existing')).toMatch(/says already/);
  });
});
