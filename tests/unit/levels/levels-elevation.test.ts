import { describe, expect, it } from 'vitest';
import { cellAt } from '../../../lib/elevation/grid';
import { localFrame, makeFrame, type XY } from '../../../lib/frame/frame';
import { levelsElevation } from '../../../lib/levels/levels-elevation';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';

const frame = makeFrame(localFrame([-87.1, 42.5]));

interface Spot {
  readonly at: XY;
  readonly [property: string]: unknown;
}

const spot = ({ at, ...properties }: Spot, i: number) => ({
  type: 'Feature',
  id: `spot-height-${i + 1}`,
  geometry: { type: 'Point', coordinates: frame.toLngLat(at) },
  properties: { kind: 'spot-height', ...properties },
});

const puddle = (ring: readonly XY[], properties: object = {}) => ({
  type: 'Feature',
  id: 'puddle-edge-1',
  geometry: {
    type: 'Polygon',
    coordinates: [[...ring, ring[0]].map((at) => frame.toLngLat(at))],
  },
  properties: { kind: 'puddle-edge', ...properties },
});

const planOf = (...features: readonly object[]): Plan =>
  readPlan(
    JSON.stringify({ type: 'FeatureCollection', lotfall: { version: 1 }, features }),
    'yard.plan.geojson',
  ).plan;

const plane = ([x, y]: XY) => 10 + 0.03 * x - 0.01 * y;
const corners: readonly XY[] = [
  [0, 0],
  [20, 0],
  [20, 15],
  [0, 15],
  [9, 7],
  [4, 11],
];

/** Height of the ground at a place, above the zero of the levels; NaN where there is none. */
function heightAt(plan: Plan, at: XY): number {
  const { elevation } = levelsElevation(plan, 'yard');
  const { grid } = elevation;
  const [x, y] = makeFrame(grid.frame).toLocal(frame.toLngLat(at));
  const cell = cellAt(grid, x, y);
  return cell === -1 ? Number.NaN : grid.z[cell] + grid.datumM;
}

const refusal = (plan: Plan): string => {
  try {
    levelsElevation(plan, 'yard.plan.geojson');
    return 'taken';
  } catch (error) {
    return error instanceof Error ? error.message : '?';
  }
};

describe('ground made from levels', () => {
  it('is the plane that they lie on, and ends where they end', () => {
    const plan = planOf(...corners.map((at, i) => spot({ at, elevation_m: plane(at) }, i)));
    for (const at of [
      [5, 5],
      [15, 10],
      [10, 2],
    ] as XY[]) {
      expect(heightAt(plan, at)).toBeCloseTo(plane(at), 2);
    }
    for (const at of [
      [-2, 5],
      [23, 10],
      [10, 17],
    ] as XY[])
      expect(heightAt(plan, at)).toBeNaN();
    const { elevation } = levelsElevation(plan, 'yard');
    expect(elevation.notes.map(({ code }) => code)).toEqual(['ground-of-levels', 'ends-at-levels']);
    expect(Math.min(...elevation.grid.z.filter((z) => !Number.isNaN(z)))).toBeGreaterThanOrEqual(1);
  });

  it('takes drops below a string as well, and ties them to heights by a place read both ways', () => {
    const drops = planOf(...corners.map((at, i) => spot({ at, drop_m: 12 - plane(at) }, i)));
    expect(heightAt(drops, [10, 10]) - heightAt(drops, [5, 5])).toBeCloseTo(0.15 - 0.05, 2);
    const tied = planOf(
      ...corners.map((at, i) =>
        spot(
          i < 3
            ? { at, drop_m: 1.4 - plane(at) + 10, ...(i === 0 ? { elevation_m: plane(at) } : {}) }
            : { at, elevation_m: plane(at) },
          i,
        ),
      ),
    );
    expect(heightAt(tied, [15, 5])).toBeCloseTo(plane([15, 5]), 2);
  });

  it('names levels that nobody read, which it leaves out', () => {
    const plan = planOf(
      ...corners.map((at, i) => spot({ at, elevation_m: plane(at) }, i)),
      spot({ at: [3, 3] }, 6),
      spot({ at: [4, 3], name: 'by the gate' }, 7),
    );
    const { notes } = levelsElevation(plan, 'yard').elevation;
    expect(notes.find(({ code }) => code === 'levels-unread')?.text).toMatch(
      /^spot height 7 and by the gate have neither a height nor a drop/,
    );
  });

  it('is level along the edge of a puddle, and so deep within it', () => {
    const ring: XY[] = Array.from({ length: 20 }, (_, i) => [
      10 + 3 * Math.cos((i * Math.PI) / 10),
      7 + 3 * Math.sin((i * Math.PI) / 10),
    ]);
    const around = corners.slice(0, 4);
    const plan = planOf(
      ...around.map((at, i) => spot({ at, elevation_m: 10.3 }, i)),
      puddle(ring, { depth_m: 0.2, on: '2026-04-02' }),
    );
    const edges = ring.map((at) => heightAt(plan, at));
    expect(Math.max(...edges) - Math.min(...edges)).toBeLessThan(0.04);
    expect(heightAt(plan, [10, 7])).toBeCloseTo(edges[0] - 0.2, 1);
    const { elevation } = levelsElevation(plan, 'yard');
    expect(elevation.notes.map(({ code }) => code)).toContain('puddle-level');
  });

  it.each<[string, readonly object[], RegExp]>([
    ['no level', [], /has no levels.*add spot heights/],
    ['two', corners.slice(0, 2).map((at, i) => spot({ at, drop_m: 1 }, i)), /2 levels.*three/],
    [
      'levels in one line',
      [0, 5, 10, 15].map((x, i) => spot({ at: [x, x], elevation_m: 3 }, i)),
      /on one line.*to either side/,
    ],
    [
      'two zeros',
      corners.map((at, i) => spot(i < 3 ? { at, drop_m: 1 } : { at, elevation_m: 9 }, i)),
      /two zeros.*both ways/,
    ],
    [
      'two marks',
      corners.map((at, i) => spot({ at, drop_m: 1, mark: i < 3 ? 'fence' : 'step' }, i)),
      /two zeros.*‘step’/,
    ],
    [
      'one place twice',
      [...corners, corners[0]].map((at, i) =>
        spot({ at, elevation_m: plane(at) + (i === 6 ? 1 : 0) }, i),
      ),
      /spot height 7: it lies where spot height 1 lies and was read 1\.00 m higher/,
    ],
    [
      'a slip of ten metres',
      corners.map((at, i) => spot({ at, elevation_m: plane(at) + (i === 4 ? 10 : 0) }, i)),
      /spot height 5: it was read \d+\.\d m higher than all other levels/,
    ],
  ])('refuses %s in a sentence', (_, features, sentence) => {
    expect(refusal(planOf(...features))).toMatch(sentence);
  });
});
