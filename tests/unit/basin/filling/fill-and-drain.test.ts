import { describe, expect, it } from 'vitest';
import { drainFromFullS } from '../../../../lib/basin/filling/drain-from-full';
import { BasinWater } from '../../../../lib/basin/filling/basin-water';
import { fillAndDrain } from '../../../../lib/basin/filling/fill-and-drain';
import { volumeAt } from '../../../../lib/basin/form/stage-storage';
import { soakedUnderWaterM } from '../../../../lib/soil/green-ampt';
import { inflow, layer, mmPerH, oneStorm, onSoil, roundBowl, weirC } from '../made-basins';

const cylinder = roundBowl(1.5, 0, 0.15, 0.2);
const bowl = roundBowl(1.2, 3, 0.15, 0.2);
const nothing = inflow(60, []);

describe('water in layers', () => {
  it('goes into a tight layer no faster than that lets it, empty as it may be', () => {
    const tub = roundBowl(1, 0, 0.4, 0.5);
    // bottom up: tight and deep below, loose and thin above
    const water = new BasinWater(
      onSoil(tub, null, [layer(0.5, 0.4, 0.1, 10), layer(0.1, 0.5, 0.1, 1000)]),
    );
    const startM3 = water.layersM3;
    water.step(60, 0.35 * Math.PI, 0);
    for (let minute = 1; minute < 60; minute++) water.step(60, 0, 0);
    const belowM = (water.layersM3 - startM3) / Math.PI - 0.04;
    // 10 mm/h, and a head of up to 0.4 m over 0.5 m
    expect(belowM).toBeGreaterThan(0.012);
    expect(belowM).toBeLessThan(0.02);
  });

  it('leaves what lies below the invert of the underdrain, however large that is', () => {
    const gravel = layer(0.3, 0.35, 0.02, 36_000);
    const basin = {
      ...onSoil(roundBowl(1, 0, 0.1, 0.2), null, [gravel]),
      underdrain: { diameter_m: 0.3, height_m: 0.1 },
    };
    const { summary } = fillAndDrain(basin, inflow(60, [0.2]), { full: true });
    expect(summary.leftM3).toBeCloseTo(0.1 * 0.33 * Math.PI, 3);
  });
});

describe('draining', () => {
  it('falls at the rate of the soil, whatever the shape: 6 in at 0.25 in/h take 24 h', () => {
    const sill = 0.1524;
    for (const [storage, within] of [
      [roundBowl(1.5, 0, sill, 0.2), 1e-6],
      [roundBowl(1.2, 3, sill, 0.2), 0.005],
      [roundBowl(0.8, 1, sill, 0.2), 0.005],
    ] as const) {
      const layers = [layer(0.15, 0.35, 0.09, 118), layer(0.3, 0.45, 0.14, 30)];
      const basin = onSoil(storage, 6.35, layers);
      // a millimetre is left in the mulch
      const expected = (sill - 0.001) / (6.35 * mmPerH);
      expect(Math.abs((drainFromFullS(basin) ?? 0) / expected - 1)).toBeLessThan(within);
    }
  });

  it('through a layer over soil that takes all: the falling head of Darcy, with an error that halves with the step', () => {
    const thickM = 0.3;
    const k = 20;
    const basin = onSoil(cylinder, 1e7, [layer(thickM, 0.4, 0.4, k)]);
    // dh/dt = -K (h + L) / L from the sill down to a millimetre
    const exact = (thickM / (k * mmPerH)) * Math.log((0.15 + thickM) / (0.001 + thickM));
    const found = [300, 150, 75].map((stepS) => {
      const run = fillAndDrain(basin, nothing, { full: true, stepS });
      return Math.abs((run.summary.drainDownS ?? 0) - exact) / exact;
    });
    expect(found[2]).toBeLessThan(0.0015);
    expect(found[1] / found[0]).toBeLessThan(0.6);
    expect(found[2] / found[1]).toBeLessThan(0.6);
  });

  it('follows Green and Ampt under a pool that stands constant', () => {
    const soil = { conductivityMPerS: 5 * mmPerH, suctionM: 0.1, deficit: 0.25 };
    const wide = roundBowl(50, 0, 0.1, 0.2);
    const basin = {
      ...onSoil(wide, 0),
      subsoil: soil,
      notch: { coefficient: weirC, widthM: 1000 },
    };
    const hours = 3;
    const soakedM = soakedUnderWaterM(soil, 0, hours * 3600, 0.1);
    // filled to the sill at once, and kept there by a trickle more than what soaks in
    const feed = Array.from({ length: hours * 60 }, (_, i) => (i === 0 ? volumeAt(wide, 0.1) : 4));
    const run = fillAndDrain(basin, inflow(60, feed), { horizonH: 0 });
    expect(run.summary.soakedM3 / (Math.PI * 50 ** 2)).toBeCloseTo(soakedM, 3);
  });

  it('fills layers from the bottom where the soil is slower, and tells when they are empty', () => {
    const layers = [layer(0.2, 0.4, 0.1, 100), layer(0.2, 0.4, 0.1, 100)];
    const basin = onSoil(cylinder, 3, layers);
    const area = Math.PI * 1.5 ** 2;
    // 60 mm over the floor within an hour: half of what the pores take
    const run = fillAndDrain(basin, inflow(3600, [0.06 * area]), {});
    expect(run.summary.overflowM3).toBe(0);
    // 60 mm at 3 mm/h from the beginning, down to the millimetre that counts as empty
    expect((run.summary.layersEmptyS ?? 0) / 3600).toBeCloseTo((60 - 1) / 3, 1);
    // nothing has to wait on the surface: 60 mm/h go through at 100 mm/h
    expect(run.summary.peakDepthM).toBe(0);
  });

  it('by an underdrain faster than without, down to its invert', () => {
    const layers = [layer(0.3, 0.35, 0.05, 500), layer(0.2, 0.45, 0.14, 100)];
    const plain = onSoil(bowl, 0.5, layers);
    const drained = { ...plain, underdrain: { diameter_m: 0.1, height_m: 0.1 } };
    const storm = oneStorm(3, 30, 4);
    const without = fillAndDrain(plain, storm).summary;
    const run = fillAndDrain(drained, storm).summary;
    expect(run.underdrainM3).toBeGreaterThan(1);
    expect(run.drainDownS ?? Infinity).toBeLessThan((without.drainDownS ?? Infinity) / 4);
    expect(run.overflowM3).toBeLessThanOrEqual(without.overflowM3);
    // what lies below the invert is left to the soil: 0.1 m of pores that let go of 0.3
    const left = fillAndDrain({ ...drained, subsoil: null }, storm, { horizonH: 48 });
    const floor = left.summary.leftM3;
    expect(floor).toBeGreaterThan(0);
    expect(floor).toBeLessThanOrEqual(0.1 * 0.3 * Math.PI * (1.2 + 3 * 0.2) ** 2 * 1.02);
  });
});

describe('filling', () => {
  it('without rain: nothing, and empty at once', () => {
    const { summary, series } = fillAndDrain(onSoil(bowl, 10), nothing);
    expect(summary).toMatchObject({
      inflowM3: 0,
      overflowM3: 0,
      capturedShare: 1,
      peakDepthM: 0,
      drainDownS: 0,
      errorM3: 0,
    });
    expect(series.timeS.length).toBe(1);
  });

  it('without infiltration: overflows all that is beyond the sill, and never empties', () => {
    const { summary } = fillAndDrain(onSoil(cylinder, 0), inflow(3600, [2]), { horizonH: 24 });
    const sill = volumeAt(cylinder, 0.15);
    expect(summary.overflowM3).toBeGreaterThan(2 - sill - 0.02);
    expect(summary.overflowM3).toBeLessThanOrEqual(2 - sill);
    expect(summary.soakedM3).toBe(0);
    expect(summary.drainDownS).toBeNull();
    expect(summary.followedS).toBeCloseTo(25 * 3600, 0);
  });

  it('with soil that takes everything: no pool, all of it captured', () => {
    const { summary } = fillAndDrain(onSoil(bowl, 1e7), oneStorm(5, 40, 2));
    expect(summary.peakDepthM).toBeLessThan(1e-6);
    expect(summary.soakedM3).toBeCloseTo(summary.inflowM3, 9);
    expect(summary.capturedShare).toBe(1);
  });

  it('with unknown soil: as with none that takes water', () => {
    const storm = oneStorm(2, 20, 2);
    const unknown = fillAndDrain(onSoil(bowl, null), storm, { horizonH: 1 }).summary;
    expect(unknown).toEqual(fillAndDrain(onSoil(bowl, 0), storm, { horizonH: 1 }).summary);
  });

  it('over a weir: as the storage equation has it, integrated by itself in steps of a second', () => {
    const basin = onSoil(bowl, 0);
    const perStepM3 = [0.4, 0.9, 1.4, 0.8, 0.3, 0.1];
    const { summary } = fillAndDrain(basin, inflow(600, perStepM3), { stepS: 2, horizonH: 0 });
    const radiusAt = (volumeM3: number): number =>
      // of V = pi ((r + 3 h)^3 - r^3) / 9
      Math.cbrt((9 * volumeM3) / Math.PI + 1.2 ** 3);
    let volume = 0;
    let over = 0;
    let peak = 0;
    const rate = (v: number, inM3PerS: number): [number, number] => {
      const depth = (radiusAt(v) - 1.2) / 3;
      const out = depth > 0.15 ? weirC * (depth - 0.15) ** 1.5 : 0;
      return [inM3PerS - out, out];
    };
    for (const stepM3 of perStepM3) {
      for (let s = 0; s < 600; s++) {
        const q = stepM3 / 600;
        const [k1, o1] = rate(volume, q);
        const [k2, o2] = rate(volume + k1 / 2, q);
        const [k3, o3] = rate(volume + k2 / 2, q);
        const [k4, o4] = rate(volume + k3, q);
        volume += (k1 + 2 * k2 + 2 * k3 + k4) / 6;
        const out = (o1 + 2 * o2 + 2 * o3 + o4) / 6;
        over += out;
        peak = Math.max(peak, out);
      }
    }
    expect(summary.overflowM3).toBeCloseTo(over, 3);
    expect(summary.peakOverflowM3PerS / peak).toBeCloseTo(1, 2);
  });

  it('higher than its rim: the rest leaves at once over it, and that is told', () => {
    const basin = { ...onSoil(cylinder, 0), notch: { coefficient: weirC, widthM: 0 } };
    const { summary } = fillAndDrain(basin, inflow(3600, [3]), { horizonH: 0 });
    expect(summary.overRim).toBe(true);
    expect(summary.peakDepthM).toBeCloseTo(0.2, 9);
    expect(summary.overflowM3).toBeCloseTo(3 - volumeAt(cylinder, 0.2), 9);
  });
});

describe('what the run tells', () => {
  const storm = oneStorm(6, 40, 6);
  const basin = onSoil(bowl, 15, [layer(0.45, 0.4, 0.15, 40)]);

  it('the series adds up to the summary', () => {
    const { series, summary } = fillAndDrain(basin, storm);
    const total = (rates: Float64Array): number =>
      rates.reduce(
        (sum, rate, i) => sum + rate * (series.timeS[i] - (series.timeS[i - 1] ?? 0)),
        0,
      );
    expect(total(series.inflowM3PerS)).toBeCloseTo(summary.inflowM3, 9);
    expect(total(series.overflowM3PerS)).toBeCloseTo(summary.overflowM3, 9);
    expect(total(series.soakedM3PerS)).toBeCloseTo(summary.soakedM3, 9);
    expect(summary.overflowM3).toBeGreaterThan(0.5);
    expect(summary.runOnM3).toBeCloseTo(6, 9);
    expect(Math.max(...series.depthM)).toBeLessThanOrEqual(summary.peakDepthM);
    expect(series.timeS.every((time, i) => i === 0 || time > series.timeS[i - 1])).toBe(true);
  });

  it('halving the step changes little, and the change is told', () => {
    const { halved, summary } = fillAndDrain(basin, storm, { halved: true });
    expect(Math.abs(halved?.overflowM3 ?? 1)).toBeLessThan(0.002 * summary.inflowM3);
    expect(Math.abs(halved?.drainDownS ?? 1e9)).toBeLessThan(300);
    const fine = fillAndDrain(basin, storm, { halved: true, stepS: 30 }).halved;
    expect(Math.abs(fine?.overflowM3 ?? 1)).toBeLessThan(Math.abs(halved?.overflowM3 ?? 0));
  });

  it('times begin at the end of the rain, or at the peak', () => {
    const { summary } = fillAndDrain(basin, storm);
    expect(summary.rainEndS).toBe(6 * 3600);
    expect(summary.peakAtS).toBeLessThan(summary.rainEndS);
    const { drainDownS, drainFromPeakS } = summary;
    expect((drainFromPeakS ?? 0) - (drainDownS ?? 0)).toBeCloseTo(
      summary.rainEndS - summary.peakAtS,
      6,
    );
  });

  it('rain on the sides soaks in there and does not wait for the pool', () => {
    const { summary } = fillAndDrain(
      onSoil(bowl, 15, [layer(0.45, 0.4, 0.15, 40)]),
      inflow(3600, [0], [10]),
    );
    expect(summary.peakDepthM).toBe(0);
    expect(summary.rainM3).toBeCloseTo(0.01 * Math.PI * 1.8 ** 2, 4);
  });
});
