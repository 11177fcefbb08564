import { beforeEach, describe, expect, it } from 'vitest';
import type { CatchLine } from '../../../../lib/drawing/catches';
import { distanceM } from '../../../../lib/frame/shapes';
import { localFrame, makeFrame, type LngLat, type XY } from '../../../../lib/frame/frame';
import type { Kind } from '../../../../lib/plan/schema';
import type { UnitSystem } from '../../../../lib/units/units';
import { DraftingStore, type Drafting } from '../../../../src/app/state/drawing/drafting.svelte';
import type { PlanGeometry } from '../../../../src/app/state/plan/plan-geometry';
import { SessionStore } from '../../../../src/app/state/session/session.svelte';

const frame = makeFrame(localFrame([-87.1, 42.5]));
const reachM = 0.4;
const house: CatchLine = [
  [20, 0],
  [30, 0],
  [30, 6],
  [20, 6],
  [20, 0],
];

let session: SessionStore;
let drafting: Drafting;
let drawn: { geometry: PlanGeometry; kind: Kind; given: object }[];
let refusal: string | null;
let units: UnitSystem;

beforeEach(() => {
  session = new SessionStore();
  drawn = [];
  refusal = null;
  units = 'metric';
  drafting = new DraftingStore(session, {
    frame: () => frame,
    units: () => units,
    lines: () => [house],
    drawnOnto: () => Promise.resolve(null),
    drawn: (geometry, kind, given) => {
      if (refusal !== null) return refusal;
      drawn.push({ geometry, kind, given });
      session.drawn();
      return null;
    },
  });
});

const place = (...at: XY): LngLat => frame.toLngLat(at);
const press = (...at: XY): void => {
  drafting.press(place(...at), reachM);
};
function type(length: string, turn = '', bearing = ''): void {
  drafting.type('length', length);
  if (turn !== '') drafting.type('turn', turn);
  if (bearing !== '') drafting.type('bearing', bearing);
}
function ring(): XY[] {
  const { geometry } = drawn[0];
  if (geometry.type !== 'Polygon') throw new Error('No outline was drawn');
  return geometry.coordinates[0].slice(0, -1).map(([lng, lat]) => frame.toLocal([lng, lat]));
}
function near(found: readonly XY[], wanted: readonly XY[]): void {
  expect(found.length).toBe(wanted.length);
  found.forEach((at, i) => {
    expect(distanceM(at, wanted[i])).toBeLessThan(1e-5);
  });
}

describe('typed figures', () => {
  beforeEach(() => {
    session.take({ draw: 'building' });
    press(1, 1);
  });

  it('set corners by length, bearing and turn, in either system', () => {
    type('8.35', '', 'N 0 E');
    drafting.set();
    type(`40' 8"`, '90');
    drafting.set();
    near(drafting.local.slice(1), [
      [1, 9.35],
      [1 + 12.3952, 9.35],
    ]);
    units = 'us';
    expect(drafting.corners.map(({ how }) => how)).toEqual(['by eye', 'typed', 'typed']);
  });

  it('leave the direction to the pointer, square where that is held', () => {
    drafting.point(place(1, 5), reachM);
    type('4');
    drafting.set();
    drafting.holdSquare(true);
    drafting.point(place(9, 5.9), reachM);
    type('6');
    drafting.set();
    near(drafting.local, [
      [1, 1],
      [1, 5],
      [7, 5],
    ]);
  });

  it('that cannot be read set nothing and say so', () => {
    type('long');
    drafting.set();
    expect(drafting.fault).toMatch(/'long' cannot be read as a length/);
    expect(drafting.corners).toHaveLength(1);
  });

  it('change a side that is drawn already, and what lies beyond moves along', () => {
    press(1, 5);
    press(9, 5);
    drafting.setSide(0, '6 m');
    near(drafting.local, [
      [1, 1],
      [1, 7],
      [9, 7],
    ]);
    drafting.setSide(0, 'six');
    expect(drafting.fault).toMatch(/cannot be read/);
  });
});

describe('ways of measuring', () => {
  it('a rectangle is a side and a width', () => {
    session.take({ draw: 'building' });
    drafting.measureBy('rectangle');
    press(0, 0);
    press(0, 4);
    drafting.point(place(-2, 2), reachM);
    type('3');
    drafting.set();
    near(ring(), [
      [0, 0],
      [0, 4],
      [-3, 4],
      [-3, 0],
    ]);
    expect(session.tool).toBe('edit');
  });

  it('two tapes from known corners put a point at the crossing that is meant', () => {
    session.take({ draw: 'tree' });
    drafting.measureBy('tapes');
    press(20.1, 0.1);
    press(30.2, -0.1);
    drafting.type('first', '6');
    drafting.type('second', '3');
    drafting.set();
    expect(drafting.fault).toMatch(/1\.00 m is missing/);
    drafting.type('second', '8');
    const { next } = drafting;
    if (next === null || typeof next === 'string') throw new Error('The tapes meet');
    expect(next.at[1]).toBeGreaterThan(0);
    drafting.turnOver();
    drafting.set();
    const { geometry } = drawn[0];
    if (geometry.type !== 'Point') throw new Error('No point was drawn');
    const [x, y] = frame.toLocal(geometry.coordinates as unknown as LngLat);
    expect(distanceM([x, y], [20, 0])).toBeCloseTo(6, 6);
    expect(distanceM([x, y], [30, 0])).toBeCloseTo(8, 6);
    expect(y).toBeLessThan(0);
  });

  it('along a wall from a corner and square out', () => {
    session.take({ draw: 'sump-outlet' });
    drafting.measureBy('along');
    // Near the north-west corner, so that is taped from, eastwards: right of that is south.
    press(21, 6.1);
    drafting.type('first', '6.2');
    drafting.type('second', '1.5');
    drafting.turnOver();
    drafting.set();
    const { geometry } = drawn[0];
    if (geometry.type !== 'Point') throw new Error('No point was drawn');
    near([frame.toLocal(geometry.coordinates as unknown as LngLat)], [[26.2, 7.5]]);
  });
});

describe('keys', () => {
  it('lead the next corner from the middle of the sheet, and set it', () => {
    session.take({ draw: 'building' });
    drafting.nudge(1, 0, place(3, 4));
    drafting.nudge(0, -0.1, place(3, 4));
    drafting.set();
    near(drafting.local, [[4, 3.9]]);
    drafting.nudge(0, 2, place(3, 4));
    expect(drafting.isLedByKeys).toBe(true);
    drafting.set();
    near(drafting.local, [
      [4, 3.9],
      [4, 5.9],
    ]);
  });
});

describe('going back', () => {
  beforeEach(() => {
    session.take({ draw: 'building' });
    press(1, 1);
    press(1, 5);
    press(9, 5);
  });

  it('takes corners back and puts them back', () => {
    expect(drafting.takeBack()).toBe(true);
    expect(drafting.takeBack()).toBe(true);
    expect(drafting.corners).toHaveLength(1);
    expect(drafting.putBack()).toBe(true);
    expect(drafting.putBack()).toBe(true);
    expect(drafting.putBack()).toBe(false);
    near(drafting.local, [
      [1, 1],
      [1, 5],
      [9, 5],
    ]);
  });

  it('steps out of what is typed, then lays the drawing aside without loss', () => {
    type('3');
    drafting.stepOut();
    expect([drafting.typed.length, session.aside.length]).toEqual(['', 0]);
    drafting.stepOut();
    expect([session.tool, session.aside.length, drafting.kind]).toEqual(['edit', 1, null]);
    const [aside] = session.aside;
    session.takeUp(aside);
    near(drafting.local, [
      [1, 1],
      [1, 5],
      [9, 5],
    ]);
    expect(session.aside).toEqual([]);
  });

  it('keeps what is refused, with the reason', () => {
    refusal = 'It crosses itself.';
    drafting.finish();
    expect([drafting.fault, drafting.corners.length]).toEqual([refusal, 3]);
  });
});

describe('ending', () => {
  it('closes at the first corner, or square', () => {
    session.take({ draw: 'building' });
    press(1, 1);
    press(1, 5);
    press(9, 5);
    drafting.finishSquare();
    near(ring(), [
      [1, 1],
      [1, 5],
      [9, 5],
      [9, 1],
    ]);
    session.take({ draw: 'roof' });
    expect(drafting.corners).toEqual([]);
    press(1, 1);
    press(1, 5);
    press(9, 4);
    press(1.1, 1.1);
    expect(drawn).toHaveLength(2);
  });

  it('asks of a utility line which service it is before it exists', () => {
    session.take({ draw: 'utility' });
    press(1, 1);
    press(9, 4);
    drafting.finish();
    expect([drafting.fault, drawn.length]).toEqual(['Choose first which service this line is.', 0]);
    drafting.serve('gas');
    drafting.finish();
    expect(drawn[0].given).toEqual({ service: 'gas' });
  });
});
