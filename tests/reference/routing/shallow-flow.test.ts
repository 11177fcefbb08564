import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../property/drainage/grounds';
import { runShallowFlow, type FlowGround } from './shallow-flow';

/** Ground from a height for each cell, counted in cells from the north-west corner. */
function groundOf(
  width: number,
  height: number,
  cellM: number,
  heightAt: (column: number, row: number) => number,
): FlowGround {
  const z = Float64Array.from({ length: width * height }, (_, i) =>
    heightAt(i % width, Math.floor(i / width)),
  );
  return { width, height, cellM, z };
}

function sum(values: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < values.length; i++) total += values[i];
  return total;
}

/** Depth of a steady film that carries a discharge down a slope, metres (Manning). */
function filmM(dischargeM2PerS: number, slope: number, manning: number): number {
  return ((manning * dischargeM2PerS) / Math.sqrt(slope)) ** 0.6;
}

describe('the solver that routing is judged by', () => {
  it('leaves a lake at rest over bumps, islands and rough ground', () => {
    const random = randomFrom(7);
    const side = 24;
    const ground = groundOf(side, side, 0.5, (column, row) => {
      const isShore = Math.min(column, row, side - 1 - column, side - 1 - row) < 3;
      return isShore ? 3 : 1 + random() + (Math.hypot(column - 12, row - 9) < 3 ? 2 : 0);
    });
    const startM = Float64Array.from(ground.z, (z) => Math.max(0, 2 - z));
    const runOffM = new Float64Array(side * side);
    const run = runShallowFlow(ground, runOffM, { manning: 0.02, rainS: 0, untilS: 300, startM });
    expect(run.steps).toBeGreaterThan(2000);
    expect(run.restlessM2PerS).toBeLessThan(1e-12);
    const moved = run.depthM.map((depth, i) => Math.abs(depth - startM[i]));
    expect(Math.max(...moved)).toBeLessThan(1e-12);
    expect(sum(run.swallowedM3)).toBe(0);
  });

  it.each([
    [0.015, 0.02],
    [0.015, 0.1],
    [0.24, 0.01],
    [0.24, 0.1],
  ])('brings rain down a plane as kinematic waves do, n %f on a slope of %f', (manning, slope) => {
    const lengthM = 30;
    const cellM = 0.5;
    const rainMPerS = 60e-3 / 3600;
    const columns = lengthM / cellM + 2;
    const ground = groundOf(columns, 5, cellM, (column) => 100 - slope * column * cellM);
    // a plane has no ends: water is kept from running off sideways by leaving the outer rows out
    const isBuilding = Uint8Array.from({ length: columns * 5 }, (_, i) => {
      const row = Math.floor(i / columns);
      return row === 0 || row === 4 || i % columns === 0 ? 1 : 0;
    });
    const runOffM = Float64Array.from(isBuilding, (built) => (built === 1 ? 0 : rainMPerS * 3600));
    const alpha = Math.sqrt(slope) / manning;
    const fullAtS = (lengthM / (alpha * rainMPerS ** (2 / 3))) ** 0.6;
    const hydrograph: [number, number][] = [];
    const film: number[] = [];
    runShallowFlow({ ...ground, isBuilding }, runOffM, {
      manning,
      rainS: 3600,
      untilS: 3 * fullAtS,
      watch: ({ timeS, leftM3, depthM }) => {
        hydrograph.push([timeS, leftM3]);
        film[0] = depthM[2 * columns + columns / 2];
      },
    });
    // three rows open, of which water leaves over the eastern border; the film in the middle carries what fell above
    const carried = rainMPerS * cellM * (columns / 2);
    expect(Math.abs(film[0] / filmM(carried, slope, manning) - 1)).toBeLessThan(0.02);
    const fellOnEdge = (timeS: number): number => 3 * cellM * cellM * rainMPerS * timeS;
    const exactM3 = (timeS: number): number => {
      const rising = (3 / 8) * alpha * rainMPerS ** (5 / 3) * Math.min(timeS, fullAtS) ** (8 / 3);
      return rising + rainMPerS * lengthM * Math.max(0, timeS - fullAtS);
    };
    const widthM = 3 * cellM;
    const total = exactM3(3 * fullAtS) * widthM;
    for (const [timeS, leftM3] of hydrograph) {
      const error = leftM3 - fellOnEdge(timeS) - exactM3(timeS) * widthM;
      expect(Math.abs(error)).toBeLessThan(0.01 * total);
    }
  });

  it('lets a film run at the depth and the direction that Manning has it, whatever the bearing', () => {
    // two planes alike but for their bearing; upslope of the middle lies the same length
    for (const degrees of [0, 27, 45]) {
      const angle = (degrees * Math.PI) / 180;
      const slope = 0.03;
      const side = 61;
      const ground = groundOf(
        side,
        side,
        1,
        (column, row) => 100 - slope * (column * Math.cos(angle) + row * Math.sin(angle)),
      );
      const rainMPerS = 60e-3 / 3600;
      // rain on a band of 20 m across the slope, ending where the gauge is
      const ahead = (i: number): number =>
        ((i % side) - 30) * Math.cos(angle) + (Math.floor(i / side) - 30) * Math.sin(angle);
      const runOffM = Float64Array.from({ length: side * side }, (_, i) =>
        ahead(i) < -0.5 && ahead(i) > -20.5 ? rainMPerS * 600 : 0,
      );
      const run = runShallowFlow(ground, runOffM, { manning: 0.05, rainS: 600, untilS: 600 });
      const depths: number[] = [];
      const bearings: number[] = [];
      for (let i = 0; i < side * side; i++) {
        const across =
          (Math.floor(i / side) - 30) * Math.cos(angle) - ((i % side) - 30) * Math.sin(angle);
        if (Math.abs(across) > 3 || ahead(i) < 3 || ahead(i) > 6) continue;
        depths.push(run.depthM[i]);
        const right = run.eastM3[i] + run.eastM3[i - 1];
        bearings.push(Math.atan2(run.southM3[i] + run.southM3[i - side], right));
      }
      const meanDepth = sum(depths) / depths.length;
      const meanBearing = sum(bearings) / bearings.length;
      expect(Math.abs(meanDepth / filmM(rainMPerS * 20, slope, 0.05) - 1)).toBeLessThan(0.03);
      expect(Math.abs(meanBearing - angle)).toBeLessThan(0.01);
    }
  });

  it('keeps the balance to 1e-12 of what fell on rough ground with pits, buildings and holes', () => {
    const random = randomFrom(3);
    const side = 40;
    const ground = groundOf(side, side, 1, (column, row) =>
      column === 20 && row === 12 ? Number.NaN : 10 - 0.03 * column + 0.1 * random(),
    );
    const isBuilding = Uint8Array.from({ length: side * side }, (_, i) =>
      i % side > 25 && i % side < 32 && Math.floor(i / side) > 20 && Math.floor(i / side) < 28
        ? 1
        : 0,
    );
    const runOffM = Float64Array.from({ length: side * side }, (_, i) =>
      isBuilding[i] === 1 || Number.isNaN(ground.z[i]) ? 0 : 0.04 * random(),
    );
    for (const waveDepthM of [Infinity, 0.04]) {
      const run = runShallowFlow({ ...ground, isBuilding }, runOffM, {
        manning: 0.05,
        rainS: 600,
        untilS: 1800,
        waveDepthM,
      });
      const put = sum(runOffM);
      const error = put - sum(run.depthM) - sum(run.swallowedM3);
      expect(Math.abs(error)).toBeLessThan(1e-12 * put);
      expect(Math.min(...run.depthM)).toBe(0);
      expect(sum(isBuilding.map((built, i) => (built === 1 && run.depthM[i] > 0 ? 1 : 0)))).toBe(0);
    }
  });
});
