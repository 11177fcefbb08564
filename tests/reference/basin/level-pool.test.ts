/**
 * Level-pool routing against published tables. The equation that a basin's steps solve is put together as the handbooks'
 * storage-indication method: half of the outflow at the level before, half at the level after.
 */
import { describe, expect, it } from 'vitest';
import { balanceDepthM } from '../../../lib/basin/filling/balance-depth';
import {
  depthAt,
  storageTable,
  volumeAt,
  type StageStorage,
} from '../../../lib/basin/form/stage-storage';

/** Outflow at the end of each step, and storage then. */
function route(
  storage: StageStorage,
  outflowAt: (depth: number) => number,
  inflow: readonly number[],
  step: number,
  startDepth = 0,
): { outflow: number[]; volume: number[] } {
  const outflow = [outflowAt(startDepth)];
  const volume = [volumeAt(storage, startDepth)];
  let depth = startDepth;
  for (let i = 1; i < inflow.length; i++) {
    const came = ((inflow[i - 1] + inflow[i]) / 2) * step;
    const whole = volume[i - 1] + came - (step / 2) * outflow[i - 1];
    depth = balanceDepthM(storage, whole, (at) => (step / 2) * outflowAt(at), depth);
    outflow.push(outflowAt(depth));
    volume.push(volume[i - 1] + came - (step / 2) * (outflow[i - 1] + outflow[i]));
  }
  return { outflow, volume };
}

/** Straight lines through a table. */
function through(xs: readonly number[], ys: readonly number[]): (x: number) => number {
  return (x) => {
    const i = Math.min(xs.length - 2, Math.max(0, xs.findIndex((each) => each > x) - 1));
    const at = x >= xs[xs.length - 1] ? xs.length - 2 : i;
    return ys[at] + ((ys[at + 1] - ys[at]) * (x - xs[at])) / (xs[at + 1] - xs[at]);
  };
}

/** A table whose volumes run straight between the given ones: the area is even between them. */
function ofVolumes(depths: readonly number[], volumes: readonly number[]): StageStorage {
  const hair = 1e-9;
  const at: number[] = [];
  const areas: number[] = [];
  for (let i = 1; i < depths.length; i++) {
    const area = (volumes[i] - volumes[i - 1]) / (depths[i] - depths[i - 1]);
    at.push(depths[i - 1] + (i === 1 ? 0 : hair), depths[i]);
    areas.push(area, area);
  }
  return storageTable(Float64Array.from(at), Float64Array.from(areas), depths[depths.length - 1]);
}

describe('Highway Hydrology (HDS-2, FHWA-NHI-02-001, 2002), example 7.2, 24-inch pipe', () => {
  const depths = [0, 1, 2, 3, 4, 5, 6, 6.3, 6.6, 6.9];
  const volumes = [0, 7000, 18_000, 32_000, 49_000, 74_000, 120_000, 141_000, 166_000, 191_000];
  const pipe = [0, 4, 13, 20, 26, 31, 35, 52, 82, 122];
  const inflow = [0, 11, 21, 30, 39, 49, 60, 49, 39, 30, 21, 11, 0];
  /** Printed for 0.5 h to 6 h. */
  const printed = [4, 14, 21, 27, 32, 35, 51, 45, 36, 34, 31, 22];
  const storage = ofVolumes(depths, volumes);
  // the handbook reads outflow off the line over storage, as the table gives both at the same levels
  const outflowAt = (depth: number): number => through(volumes, pipe)(volumeAt(storage, depth));
  const { outflow, volume } = route(storage, outflowAt, inflow, 1800);

  it('outflows to the whole cubic feet a second printed', () => {
    expect(volumeAt(storage, 5)).toBeCloseTo(74_000, 2);
    printed.forEach((value, i) => {
      expect(Math.abs(outflow[i + 1] - value), `after ${(i + 1) / 2} h`).toBeLessThan(1);
    });
  });

  it('the peak: 50.8 cfs and 139,475 ft3 after 3.5 h', () => {
    const peak = outflow.indexOf(Math.max(...outflow));
    expect(peak).toBe(7);
    expect(outflow[peak]).toBeCloseTo(50.8, 1);
    expect(Math.abs(volume[peak] - 139_475)).toBeLessThan(30);
  });

  it('keeps the balance', () => {
    const came = inflow.reduce((sum, each) => sum + each, 0) * 1800;
    const left =
      outflow.reduce((sum, each, i) => sum + each * (i === outflow.length - 1 ? 0.5 : 1), 0) * 1800;
    expect(came - left - volume[volume.length - 1]).toBeCloseTo(0, 3);
  });
});

describe('a linear reservoir (teaching page of San Diego State University): dt 1 h, K 2 h', () => {
  const inflow = [100, 150, 250, 400, 800, 1000, 900, 700, 550, 400, 300, 250, 200, 150, 120, 100];
  const printed = [
    100, 110, 146, 217.6, 370.56, 582.336, 729.402, 757.641, 704.585, 612.751, 507.65, 414.59,
    338.754, 273.252, 217.951, 174.771,
  ];

  it('the printed outflows to their last digit', () => {
    // a basin with upright walls and an area of 1 holds its depth; S = K O
    const upright = storageTable(Float64Array.of(0, 1e6), Float64Array.of(1, 1), 1e6);
    const { outflow } = route(upright, (depth) => depth / 2, inflow, 1, 200);
    printed.forEach((value, i) => {
      expect(Math.abs(outflow[i] - value), `hour ${i}`).toBeLessThan(6e-4);
    });
  });
});

describe('a detention basin of one acre (Chow, Maidment and Mays, example 8.2; recalled, recomputed)', () => {
  const depths = Array.from({ length: 21 }, (_, i) => i / 2);
  const rating = [
    0, 3, 8, 17, 30, 43, 60, 78, 97, 117, 137, 156, 173, 190, 205, 218, 231, 242, 253, 264, 275,
  ];
  const inflow = [
    0, 60, 120, 180, 240, 300, 360, 320, 280, 240, 200, 160, 120, 80, 40, 0, 0, 0, 0, 0, 0, 0,
  ];
  const expected = [
    2.4, 17.1, 61.1, 123.2, 182.2, 230.3, 259.3, 270.0, 267.4, 254.9, 235.2, 206.9, 168.5, 124.1,
    79.8, 48.6, 32.7, 22.8, 16.2, 12.6, 9.8,
  ];

  it('the outflows, and a peak of 270 cfs at 80 minutes and 9.77 ft', () => {
    const acre = 43_560;
    const upright = storageTable(Float64Array.of(0, 10), Float64Array.of(acre, acre), 10);
    const { outflow, volume } = route(upright, through(depths, rating), inflow, 600);
    expected.forEach((value, i) => {
      expect(Math.abs(outflow[i + 1] - value), `${(i + 1) * 10} min`).toBeLessThan(0.15);
    });
    const peak = outflow.indexOf(Math.max(...outflow));
    expect(peak).toBe(8);
    expect(depthAt(upright, volume[peak])).toBeCloseTo(9.77, 2);
    // the outflow curve crosses the falling inflow there
    expect(Math.abs(outflow[peak] - inflow[peak])).toBeLessThan(15);
  });
});
