import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import {
  cellElevations,
  cellsOf,
  elevationsAt,
  fallBetween,
  stationsAlong,
  waterLevels,
} from '../../../lib/ground/sampled-line';
import { groundOf } from './plane-lot';

const plane = groundOf(40, 40, 1, (x, y) => 5 + 0.03 * x - 0.02 * y);
const cone = groundOf(40, 40, 0.5, (x, y) => 9 - 0.1 * Math.hypot(x - 20, y - 20));
const line: XY[] = [
  [5, 5],
  [25, 5],
  [25, 20],
];

describe('stations along a line', () => {
  it('hold every point of it, in equal pieces no longer than the step', () => {
    const stations = stationsAlong(line, 2.1);
    expect(stations.map(({ at }) => at)).toEqual(expect.arrayContaining(line));
    const along = stations.map(({ alongM }) => alongM);
    expect(along.at(0)).toBe(0);
    expect(along.at(-1)).toBeCloseTo(35, 12);
    along.forEach((m, i) => {
      if (i > 0) expect(m - along[i - 1]).toBeLessThanOrEqual(2.1);
      if (i > 0) expect(m).toBeGreaterThan(along[i - 1]);
    });
  });

  it('are not so many that a long line chokes the page', () => {
    const far: XY[] = [
      [0, 0],
      [90_000, 0],
    ];
    expect(stationsAlong(far, 0.25).length).toBeLessThanOrEqual(2001);
  });
});

describe('elevation along a line', () => {
  it('of a plane is the plane', () => {
    const places = stationsAlong(line, 0.7).map(({ at }) => at);
    elevationsAt(plane, places).forEach((elevation, i) => {
      const [x, y] = places[i];
      expect(elevation).toBeCloseTo(105 + 0.03 * x - 0.02 * y, 5);
    });
  });

  it('of a cone is the cone, away from its tip', () => {
    const across: XY[] = [
      [4, 21],
      [36, 23],
    ];
    const places = stationsAlong(across, 0.5).map(({ at }) => at);
    elevationsAt(cone, places).forEach((elevation, i) => {
      const away = Math.hypot(places[i][0] - 20, places[i][1] - 20);
      if (away > 3) expect(Math.abs(elevation - (109 - 0.1 * away))).toBeLessThan(0.002);
    });
  });

  it('stops at what is no ground, and takes nothing of its height over', () => {
    const shut = new Uint8Array(40 * 40);
    const raised = groundOf(40, 40, 1, (x) => (x > 10 && x < 20 ? 30 : 5));
    for (let cell = 0; cell < shut.length; cell++) {
      const column = cell % 40;
      if (column >= 10 && column < 20) shut[cell] = 1;
    }
    const places: XY[] = [
      [9.8, 20.5],
      [15, 20.5],
      [20.2, 20.5],
    ];
    const [west, inside, east] = elevationsAt(raised, places, shut);
    expect([west, east]).toEqual([105, 105]);
    expect(inside).toBeNaN();
  });

  it('is none outside the data', () => {
    expect(elevationsAt(plane, [[-1, 5]])[0]).toBeNaN();
  });
});

it('has water level across a pool, and none beside it', () => {
  const pool = groundOf(20, 4, 1, (x) => 5 - Math.max(0, 0.5 - 0.1 * Math.abs(x - 10)));
  const depth = Float32Array.from(pool.z, (z) => Math.max(0, 4.8 - z));
  const places = stationsAlong(
    [
      [0.5, 1.5],
      [19.5, 1.5],
    ],
    1,
  ).map(({ at }) => at);
  const cells = cellsOf(pool, places);
  const levels = waterLevels(cells, cellElevations(pool, cells), depth);
  const wet = [...levels].filter((level) => !Number.isNaN(level));
  expect(wet.length).toBeGreaterThan(3);
  expect(wet.length).toBeLessThan(levels.length);
  for (const level of wet) expect(level).toBeCloseTo(104.8, 5);
});

it('tells the fall between two places, positive down', () => {
  const ends: [XY, XY] = [
    [30, 20],
    [10, 20],
  ];
  const fall = fallBetween(plane, ends, 20);
  expect(fall?.fallM).toBeCloseTo(0.6, 5);
  expect(fall?.slope).toBeCloseTo(0.03, 6);
  expect(fallBetween(plane, [ends[1], ends[0]], 20)?.fallM).toBeCloseTo(-0.6, 5);
  expect(fallBetween(plane, [[-5, 0], ends[0]], 20)).toBeNull();
  expect(fallBetween(plane, ends, 0)).toBeNull();
});
