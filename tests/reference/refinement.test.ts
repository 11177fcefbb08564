import { describe, expect, it } from 'vitest';
import { landM } from '../../fixtures/demo/land';
import { hollows, house, lots, raster } from '../../fixtures/demo/scenario';
import { drainLot } from '../../lib/drainage/answer/drain-lot';
import type { DrainageResult } from '../../lib/drainage/answer/drainage-result';
import { shapeGround } from '../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../lib/drainage/storm/storm-on-ground';
import type { XY } from '../../lib/frame/frame';
import type { PlanFeature } from '../../lib/plan/schema';
import { runOffMm } from '../../lib/storm/run-off';
import { box, frame, groundOf, planOf, polygonOf } from '../unit/ground/plane-lot';

const cellsM = [1, 0.5, 0.25];

function answers(
  widthM: number,
  heightM: number,
  height: (x: number, y: number) => number,
  features: readonly PlanFeature[],
  rainMm: number,
): DrainageResult[] {
  return cellsM.map((cellM) => {
    const plan = planOf(features);
    const shape = shapeGround(groundOf(widthM, heightM, cellM, height), plan);
    const storm = stormOnGround(shape, plan, rainMm);
    return drainLot(shape, storm, plan, { crs: '', rmseM: 0 });
  });
}

/** Each halving of the cells leaves at most so much of the error, down to a part of the value that nobody asks for. */
function expectConverging(
  values: readonly number[],
  exact: number,
  keeps: number,
  within: number,
): void {
  const errors = values.map((value) => Math.abs(value / exact - 1));
  for (let i = 1; i < errors.length; i++) {
    expect(errors[i], `${values.join(', ')} towards ${exact}`).toBeLessThanOrEqual(
      Math.max(keeps * errors[i - 1], within / 2),
    );
  }
  expect(errors[errors.length - 1], `${values.join(', ')} towards ${exact}`).toBeLessThan(within);
}

describe('halving the cells on a plane with a hollow', () => {
  const slope = 0.02;
  const radiusM = 6;
  const deepM = 0.4;
  // A paraboloid taken out of a plane that falls south: what it holds is a paraboloid cut off level at its downhill rim.
  const part = (slope * radiusM) / (2 * deepM);
  const holdsM3 = (Math.PI / 2) * deepM * radiusM ** 2 * (1 - part) ** 4;
  const areaM2 = Math.PI * (radiusM * (1 - part)) ** 2;
  const answered = (rainMm: number): DrainageResult[] =>
    answers(
      60,
      60,
      (x, y) => {
        const r = Math.hypot(x - 30, y - 22) / radiusM;
        return 3 + slope * y - Math.max(0, deepM * (1 - r * r));
      },
      [polygonOf('own', box(20, 10, 40, 30), { kind: 'lot', own: true })],
      rainMm,
    );
  const [small, large] = [60, 100].map((rainMm) => ({
    found: answered(rainMm),
    runOffM: runOffMm(rainMm, 74) / 1000,
    rainM: rainMm / 1000,
  }));
  /** Straight above the hollow to the end of the data, and all of the hollow itself. */
  const drainsM2 = 2 * radiusM * (60 - 22) + (Math.PI / 2) * radiusM ** 2;

  it('brings the low spot to its volume, area and depth, of first order as its rim falls between cells', () => {
    for (const { low_spots } of small.found) expect(low_spots.length).toBe(1);
    const spots = small.found.map(({ low_spots: [spot] }) => spot);
    expectConverging(
      spots.map((spot) => spot.volume_m3),
      holdsM3,
      0.6,
      0.02,
    );
    expectConverging(
      spots.map((spot) => spot.area_m2),
      areaM2,
      0.7,
      0.02,
    );
    expectConverging(
      spots.map((spot) => spot.depth_m),
      deepM * (1 - part) ** 2,
      0.7,
      0.02,
    );
  });

  it('brings what drains to the lot to the strip above it, as the root of the cell: multiple flow spreads in from the sides', () => {
    const areas = small.found.map(({ contributing: [own] }) => own.area_m2);
    expectConverging(areas, 20 * 50, 0.85, 0.11);
  });

  it('brings the ledger to its volumes, with the hollow part full and full', () => {
    expect(small.runOffM * drainsM2).toBeLessThan(holdsM3);
    expect(large.runOffM * drainsM2).toBeGreaterThan(holdsM3);
    for (const { found, runOffM, rainM } of [small, large]) {
      const of = (name: 'run_on_m3' | 'standing_m3' | 'passed_on_m3' | 'soaked_m3') =>
        found.map(({ ledger }) => ledger?.[name] ?? NaN);
      const standsM3 = Math.min(holdsM3, runOffM * drainsM2);
      // water spreads in from the sides, by the root of the cell
      expectConverging(of('standing_m3'), standsM3, 0.65, 0.1);
      expectConverging(of('run_on_m3'), 20 * 30 * runOffM, 0.85, 0.18);
      expectConverging(of('passed_on_m3'), 20 * 50 * runOffM - standsM3, 0.85, 0.23);
      expectConverging(of('soaked_m3'), 20 * 20 * (rainM - runOffM), 0.6, 1e-9);
    }
  });
});

describe('halving the cells on the land of the demo lot', () => {
  const place = ([x, y]: XY): XY => [x - raster.west, y - raster.south];
  const found = answers(
    raster.east - raster.west,
    raster.north - raster.south,
    (x, y) => landM(x + raster.west, y + raster.south) - 200,
    [
      polygonOf('own', lots.own.map(place), { kind: 'lot', own: true }),
      polygonOf('uphill', lots.uphill.map(place), { kind: 'lot', own: false }),
      polygonOf('downhill', lots.downhill.map(place), { kind: 'lot', own: false }),
      polygonOf('house', house.map(place), { kind: 'building' }),
    ],
    40,
  );

  /** Each halving changes the figure by no more than most of what the one before did, and the last by little. */
  function expectSettling(values: readonly number[], within: number): void {
    const [coarse, middle, fine] = values;
    expect(Math.abs(fine - middle), values.join(', ')).toBeLessThan(
      Math.max(Math.abs(middle - coarse), within * fine),
    );
    expect(Math.abs(fine - middle), values.join(', ')).toBeLessThan(within * fine);
  }

  it('settles the volumes of the hollows that the scenario digs', () => {
    for (const { at, halfM } of [hollows.wall, hollows.septic, hollows.electric]) {
      const volumes = found.map(({ low_spots }) => {
        const spot = low_spots.find(({ deepest }) => {
          const [x, y] = frame.toLocal(deepest);
          const [atX, atY] = place(at);
          return Math.hypot((x - atX) / halfM[0], (y - atY) / halfM[1]) < 1;
        });
        return spot?.volume_m3 ?? NaN;
      });
      expectSettling(volumes, 0.12);
    }
  });

  it('settles what drains to the lot, and its ledger', () => {
    expectSettling(
      found.map(({ contributing: [own] }) => own.area_m2),
      0.03,
    );
    const ledgers = found.map(({ ledger }) => ledger);
    expectSettling(
      ledgers.map((ledger) => ledger?.run_on_m3 ?? NaN),
      0.08,
    );
    expectSettling(
      ledgers.map((ledger) => ledger?.passed_on_m3 ?? NaN),
      0.05,
    );
    expectSettling(
      ledgers.map((ledger) => ledger?.standing_m3 ?? NaN),
      0.1,
    );
    expectSettling(
      ledgers.map((ledger) => ledger?.soaked_m3 ?? NaN),
      0.01,
    );
  });
});
