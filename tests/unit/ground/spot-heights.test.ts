import { describe, expect, it } from 'vitest';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import type { Grid } from '../../../lib/elevation/grid';
import type { XY } from '../../../lib/frame/frame';
import { trendOf } from '../../../lib/ground/reading-trend';
import { correctBySpotHeights } from '../../../lib/ground/spot-heights';
import { coarseStep, undoSteps } from '../../../lib/ground/undo-steps';
import { groundOf } from './plane-lot';

type Height = (x: number, y: number) => number;

/** Ground that holds no water, around a lot of 30 by 40 m in the middle of 120 by 120 m. */
const truths: readonly (readonly [string, Height])[] = [
  ['a plane', (x, y) => 3 + 0.02 * x + 0.005 * y],
  ['a steeper plane', (x, y) => 5 + 0.05 * x - 0.02 * y],
  ['a valley', (x, y) => 2 + 0.02 * x + 0.0006 * (y - 60) ** 2],
  ['a hilltop', (x, y) => 6 - 0.0005 * ((x - 60) ** 2 + (y - 60) ** 2)],
];
const size = 120;

/** Twenty places on the lot, the same each time. */
function readingPlaces(seed: number): XY[] {
  let state = seed;
  const next = (): number => {
    state = (state * 1_103_515_245 + 12_345) % 2 ** 31;
    return state / 2 ** 31;
  };
  return Array.from({ length: 20 }, () => [45 + 30 * next(), 40 + 40 * next()]);
}

function correctedBy(raster: Grid, truth: Height, places: readonly XY[]): Grid {
  const grid = { ...raster, z: raster.z.slice() };
  correctBySpotHeights(
    grid,
    places.map((at, i) => ({
      id: `spot-${i}`,
      at,
      elevationM: raster.datumM + truth(...at),
    })),
  );
  return grid;
}

/** Water that all low spots hold, m3. */
function poolM3({ z, width, height, cellM }: Grid): number {
  const { filled } = buildTerrain(z, width, height);
  return z.reduce((sum, heightM, cell) => sum + filled[cell] - heightM, 0) * cellM ** 2;
}

describe('true readings all over a lot', () => {
  const rasters: readonly (readonly [string, number, (truth: Height) => Height, number])[] = [
    ['flat', 1, () => () => 4, 0.5],
    ['too high everywhere', 1, (truth) => (x, y) => truth(x, y) + 0.3, 0.5],
    ['in cells of 5 m', 5, (truth) => truth, 0.5],
    [
      'drawn from cells of 10 m',
      1,
      (truth) => (x, y) => truth(Math.floor(x / 10) * 10 + 5, Math.floor(y / 10) * 10 + 5),
      4,
    ],
  ];
  for (const [truthName, truth] of truths) {
    it.each(rasters)(
      `build no dam on a raster of ${truthName} that is %s`,
      (_, cellM, of, mostM3) => {
        const raster = groundOf(size, size, cellM, of(truth));
        expect(poolM3(raster)).toBeCloseTo(0, 3);
        for (const seed of [1, 2, 3]) {
          const corrected = correctedBy(raster, truth, readingPlaces(seed));
          expect(poolM3(corrected)).toBeLessThan(mostM3);
        }
      },
    );
  }

  it('leave ground that they agree with as it is', () => {
    const [, truth] = truths[2];
    const raster = groundOf(size, size, 1, truth);
    const { z } = correctedBy(raster, truth, readingPlaces(4));
    // The centre of a cell lies up to half a cell from where the reading was taken.
    z.forEach((heightM, cell) => {
      expect(Math.abs(heightM - raster.z[cell])).toBeLessThan(0.03);
    });
  });
});

describe('true readings on a raster in whole metres', () => {
  let state = 7;
  const next = (): number => {
    state = (state * 1_103_515_245 + 12_345) % 2 ** 31;
    return state / 2 ** 31;
  };
  /** Planes and valleys that fall some way, by how much they bend across it. */
  function drawn(bend: number): Height {
    const [bearing, slope, baseM] = [2 * Math.PI * next(), 0.005 + 0.04 * next(), 6 + next()];
    const [cosine, sine] = [Math.cos(bearing), Math.sin(bearing)];
    return (x, y) => {
      const [along, across] = [
        cosine * (x - 60) + sine * (y - 60),
        cosine * (y - 60) - sine * (x - 60),
      ];
      return baseM + slope * along + bend * across ** 2;
    };
  }

  it.each([
    ['planes', 1, 0, 0.05],
    ['planes', 5, 0, 0.05],
    ['valleys', 1, 0.0006, 1.5],
  ])('build hardly any pool on %s in cells of %d m', (_, cellM, bend, mostM3) => {
    let pools = 0;
    const draws = 25;
    for (let draw = 0; draw < draws; draw++) {
      const truth = drawn(bend);
      const raster = groundOf(size, size, cellM, (x, y) => Math.round(truth(x, y)));
      pools += poolM3(correctedBy(raster, truth, readingPlaces(draw + 1)));
    }
    expect(pools / draws).toBeLessThan(mostM3);
  });

  it('are told of the steps, which no height leaves by more than half of one', () => {
    const truth = drawn(0);
    const raster = groundOf(size, size, 1, (x, y) => Math.round(truth(x, y)));
    const grid = { ...raster, z: raster.z.slice() };
    expect(coarseStep(grid)).toBeCloseTo(1, 9);
    undoSteps(grid, 1);
    grid.z.forEach((heightM, cell) => {
      expect(Math.abs(heightM - raster.z[cell])).toBeLessThanOrEqual(0.5);
    });
    const spots = readingPlaces(1).map((at, i) => ({
      id: `${i}`,
      at,
      elevationM: 100 + truth(...at),
    }));
    const [first] = correctBySpotHeights({ ...raster, z: raster.z.slice() }, spots).edits;
    expect(first.notes.join(' ')).toMatch(/steps of 1\.00 m.*cannot be judged/);
  });

  it('see no steps in fine heights, in one level or in terraces of all kinds', () => {
    const stepOf = (height: Height) => coarseStep(groundOf(40, 40, 1, height));
    expect(stepOf((x, y) => 3 + 0.02 * x + 0.01 * y)).toBeNull();
    expect(stepOf((x) => Math.round(x) / 10)).toBeNull();
    expect(stepOf(() => 4)).toBeNull();
    expect(stepOf((x) => [1, 1.7, 2.1, 3][Math.floor(x / 10)])).toBeNull();
    expect(stepOf((x) => 0.3048 * Math.floor(x / 4))).toBeCloseTo(0.3048, 2);
  });
});

describe('what readings have in common', () => {
  const places: readonly XY[] = [
    [0, 0],
    [10, 0],
    [20, 0],
    [0, 10],
    [10, 10],
    [20, 10],
  ];
  const trend = (...values: number[]) =>
    trendOf(places.slice(0, values.length).map((at, i) => ({ at, valueM: values[i] })));

  it('is nothing where there are few, or one differs from the others that agree', () => {
    expect(trend(0.3, 0.3, 0.3).at).toBeNull();
    expect(trend(0, 0, -0.3, 0, 0, 0).at).toBeNull();
    expect(trend(0.1, -0.1, 0.1, -0.1, 0.1, -0.1).at).toBeNull();
  });

  it('is an offset that they all have, whatever their scatter', () => {
    expect(trend(0.2, 0.22, 0.18, 0.2, 0.22, 0.18).at?.([300, -50])).toBeCloseTo(0.2, 9);
  });

  it('is a tilt, level beyond the outermost of them', () => {
    const { at } = trend(0, 0.1, 0.2, 0.05, 0.15, 0.25);
    expect(at?.([5, 5])).toBeCloseTo(0.075, 9);
    expect(at?.([20, 10])).toBeCloseTo(0.25, 9);
    expect(at?.([500, 10])).toBeCloseTo(0.25, 9);
    expect(at?.([500, -90])).toBeCloseTo(0.2, 9);
  });

  it('says nothing across a line', () => {
    const { at } = trendOf(
      [0, 5, 10, 15, 20, 25].map((x) => ({ at: [x, 2 * x], valueM: 0.01 * x })),
    );
    expect(at?.([0, 0])).toBe(at?.([25, 50]));
  });
});
