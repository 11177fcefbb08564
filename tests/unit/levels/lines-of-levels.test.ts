import { describe, expect, it } from 'vitest';
import { cellAt } from '../../../lib/elevation/grid';
import { localFrame, makeFrame, type XY } from '../../../lib/frame/frame';
import { levelsElevation } from '../../../lib/levels/levels-elevation';
import { hasLevels } from '../../../lib/levels/readings';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';

const frame = makeFrame(localFrame([-87.1, 42.5]));
let count = 0;
const feature = (type: string, at: readonly XY[], properties: object): object => {
  const places = at.map((xy) => frame.toLngLat(xy));
  const coordinates =
    type === 'Point' ? places[0] : type === 'Polygon' ? [[...places, places[0]]] : places;
  return { type: 'Feature', id: `f-${++count}`, geometry: { type, coordinates }, properties };
};
const spot = (at: XY, elevation_m: number): object =>
  feature('Point', [at], { kind: 'spot-height', elevation_m });
const contour = (at: readonly XY[], elevation_m?: number, name?: string): object =>
  feature('LineString', at, { kind: 'level-line', elevation_m, name });
const planOf = (...features: readonly object[]): Plan =>
  readPlan(
    JSON.stringify({ type: 'FeatureCollection', lotfall: { version: 1 }, features }),
    'yard.plan.geojson',
  ).plan;

function heights(plan: Plan): (at: XY) => number {
  const { grid } = levelsElevation(plan, 'yard').elevation;
  const own = makeFrame(grid.frame);
  return (at) => {
    const cell = cellAt(grid, ...own.toLocal(frame.toLngLat(at)));
    return cell === -1 ? Number.NaN : grid.z[cell] + grid.datumM;
  };
}

describe('level lines', () => {
  /** Falls 5 % to the south. */
  const lines = [0, 5, 10, 15].map((y) =>
    contour(
      [
        [0, y],
        [20, y],
      ],
      100 + 0.05 * y,
    ),
  );

  it('make ground by themselves', () => {
    const plan = planOf(...lines);
    expect(hasLevels(plan)).toBe(true);
    const at = heights(plan);
    expect(Math.abs(at([10, 7.5]) - 100.375)).toBeLessThan(0.01);
    expect(Math.abs(at([3, 12]) - 100.6)).toBeLessThan(0.01);
  });

  it('bear a level that lies on one of them', () => {
    const at = heights(planOf(...lines, spot([0, 5], 100.25)));
    expect(Math.abs(at([10, 7.5]) - 100.375)).toBeLessThan(0.01);
  });

  it('have their height found where nobody gave it', () => {
    const corners: readonly XY[] = [
      [0, 0],
      [20, 0],
      [20, 15],
      [0, 15],
    ];
    const plan = planOf(
      ...corners.map((at) => spot(at, 100 + 0.05 * at[1])),
      contour(
        [
          [2, 6],
          [18, 6],
        ],
        undefined,
        'step',
      ),
    );
    expect(heights(plan)([10, 6])).toBeCloseTo(100.3, 1);
    expect(
      levelsElevation(plan, 'yard')
        .elevation.notes.map(({ text }) => text)
        .join(),
    ).toMatch(/step lies at 100\.\d\d m/);
  });

  it('are refused where two of different height cross', () => {
    const crossing = contour(
      [
        [5, -1],
        [9, 8],
      ],
      101,
      'the 101',
    );
    expect(() => levelsElevation(planOf(...lines, crossing), 'yard')).toThrow(
      /crosses the 101, and the ground cannot lie at 100\.00 m and at 101\.00 m in one place/,
    );
  });
});

describe('break lines', () => {
  const wall: readonly XY[] = [
    [10, 0],
    [10, 20],
  ];
  /** A terrace half a metre above the yard, levels read at the wall's top and foot and away from it. */
  const readings = [0, 10, 20].flatMap((y) => [
    spot([0, y], 10.5),
    spot([9.8, y], 10.5),
    spot([10.2, y], 10),
    spot([20, y], 10),
  ]);

  it('hold a jump between the levels at its top and at its foot', () => {
    const offs = [[], [feature('LineString', wall, { kind: 'break-line', step: true })]].map(
      (more) => {
        const at = heights(planOf(...readings, ...more));
        // Between the places that were read, near the wall and half way to the edge.
        return Math.max(
          ...[5, 15].flatMap((y) =>
            [at([9.4, y]) - 10.5, at([5, y]) - 10.5, 10 - at([10.6, y]), 10 - at([15, y])].map(
              Math.abs,
            ),
          ),
        );
      },
    );
    expect(offs[1]).toBeLessThan(0.01);
    expect(offs[0]).toBeGreaterThan(0.3);
  });

  it('let the ground go round the end of a wall that stops within it', () => {
    const short = feature('LineString', wall.slice(0, 1).concat([[10, 10]]), { kind: 'wall' });
    const low = [15, 20].flatMap((y) => [0, 5, 10, 15, 20].map((x) => spot([x, y], 10.25)));
    const near = [0, 8].flatMap((y) => [spot([9.8, y], 10.5), spot([10.2, y], 10)]);
    const far = [0, 8].flatMap((y) => [spot([0, y], 10.5), spot([20, y], 10)]);
    const at = heights(planOf(...near, ...far, ...low, short));
    expect(at([9.5, 5]) - at([10.5, 5])).toBeGreaterThan(0.4);
    expect(Math.abs(at([9.5, 14]) - at([10.5, 14]))).toBeLessThan(0.05);
  });

  it('run straight between the levels read along them', () => {
    const ditch: readonly XY[] = [
      [0, 5],
      [20, 5],
    ];
    const around = [0, 10].flatMap((y) => [0, 10, 20].map((x) => spot([x, y], 10)));
    const bed = [spot([0, 5], 9.6), spot([20, 5], 9.4)];
    const line = feature('LineString', ditch, { kind: 'break-line' });
    expect(heights(planOf(...around, ...bed, line))([10.1, 5.1])).toBeCloseTo(9.5, 1);
    expect(heights(planOf(...around, ...bed))([10.1, 5.1])).toBeGreaterThan(9.6);
    const planned = feature('LineString', ditch, { kind: 'swale' });
    expect(heights(planOf(...around, ...bed, planned))([10.1, 5.1])).toBeGreaterThan(9.6);
  });
});

describe('the edge of a puddle', () => {
  it('is refused over a hill', () => {
    const ring: readonly XY[] = [
      [5, 5],
      [15, 5],
      [15, 10],
      [5, 10],
    ];
    const corners: readonly XY[] = [
      [0, 0],
      [20, 0],
      [20, 15],
      [0, 15],
    ];
    const edge = feature('Polygon', ring, { kind: 'puddle-edge', name: 'the pool' });
    const around = corners.map((at) => spot(at, 10));
    expect(() => levelsElevation(planOf(...around, edge, spot([10, 7.5], 10.6)), 'yard')).toThrow(
      /the pool: .* lies inside this edge of water and [\d.]+ cm above it.*over a hill/,
    );
    expect(() =>
      levelsElevation(planOf(...around, edge, spot([10, 7.5], 9.8)), 'yard'),
    ).not.toThrow();
  });
});
