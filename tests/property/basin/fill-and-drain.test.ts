import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BasinToFill } from '../../../lib/basin/filling/basin-water';
import { fillAndDrain, type Inflow } from '../../../lib/basin/filling/fill-and-drain';
import { fillInSeries } from '../../../lib/basin/filling/in-series';
import { inflow, layer, mmPerH, roundBowl, weirC } from '../../unit/basin/made-basins';

const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true });

/** What a basin is made from: printed when a property fails. */
const someBasin = fc.record({
  radius: between(0, 3),
  slope: between(0.2, 6),
  sill: between(0.02, 0.4),
  freeboard: between(0, 0.2),
  layers: fc.array(
    fc.record({
      thick: between(0.02, 0.6),
      pores: between(0.2, 0.7),
      held: between(0, 1),
      k: between(0, 3),
    }),
    { maxLength: 4 },
  ),
  k: between(-2, 3),
  suction: between(0, 0.3),
  deficit: between(0, 0.4),
  width: between(0, 3),
  pipe: fc.option(fc.record({ diameter_m: between(0.03, 0.15), height_m: between(0, 0.3) }), {
    nil: undefined,
  }),
});

function built(from: typeof someBasin extends fc.Arbitrary<infer T> ? T : never): BasinToFill {
  return {
    storage: roundBowl(from.radius, from.slope, from.sill, from.sill + from.freeboard),
    layers: from.layers.map(({ thick, pores, held, k }) =>
      layer(thick, pores, pores * held, 10 ** k),
    ),
    subsoil: {
      conductivityMPerS: 10 ** from.k * mmPerH,
      suctionM: from.suction,
      deficit: from.deficit,
    },
    underdrain: from.pipe,
    notch: { coefficient: weirC, widthM: from.width },
  };
}

const someStorm = fc.record({
  stepS: fc.constantFrom(60, 300, 360, 3600),
  run: fc.array(fc.oneof(fc.constant(0), between(0, 0.5)), { minLength: 1, maxLength: 24 }),
  rain: fc.array(fc.oneof(fc.constant(0), between(0, 8)), { maxLength: 24 }),
});

function stormOf({ stepS, run, rain }: { stepS: number; run: number[]; rain: number[] }): Inflow {
  return inflow(stepS, run, rain);
}

const runs = { numRuns: 1000, seed: 7 };

describe('filling and draining any basin in any storm', () => {
  it('keeps the balance of water to rounding, and every volume within bounds', () => {
    fc.assert(
      fc.property(someBasin, someStorm, (from, rain) => {
        const [basin, storm] = [built(from), stormOf(rain)];
        const { summary, series } = fillAndDrain(basin, storm, { horizonH: 24 });
        expect(Math.abs(summary.errorM3)).toBeLessThan(1e-12 * (1 + summary.inflowM3));
        for (const each of [summary.overflowM3, summary.soakedM3, summary.underdrainM3])
          expect(each).toBeGreaterThanOrEqual(0);
        expect(summary.overflowM3).toBeLessThanOrEqual(summary.inflowM3 + 1e-12);
        const top = basin.storage.depthsM.at(-1) ?? 0;
        for (const depth of series.depthM) {
          expect(depth).toBeGreaterThanOrEqual(0);
          expect(depth).toBeLessThanOrEqual(top + 1e-9);
        }
      }),
      runs,
    );
  });

  it('overflows no less when more comes', () => {
    fc.assert(
      fc.property(someBasin, someStorm, between(1, 3), (from, rain, more) => {
        const [basin, storm] = [built(from), stormOf(rain)];
        const larger = {
          ...storm,
          runOnM3: storm.runOnM3.map((each) => each * more),
          rainMm: storm.rainMm.map((each) => each * more),
        };
        const options = { horizonH: 0 };
        const before = fillAndDrain(basin, storm, options).summary;
        const after = fillAndDrain(basin, larger, options).summary;
        expect(after.overflowM3).toBeGreaterThanOrEqual(before.overflowM3 - 1e-9);
        expect(after.peakDepthM).toBeGreaterThanOrEqual(before.peakDepthM - 1e-6);
      }),
      runs,
    );
  });

  it('overflows no more when the basin is larger all over', () => {
    fc.assert(
      fc.property(someBasin, someStorm, between(1, 3), (from, rain, more) => {
        const [basin, storm] = [built(from), stormOf(rain)];
        const { depthsM, areasM2, volumesM3 } = basin.storage;
        const larger = {
          ...basin,
          storage: {
            ...basin.storage,
            depthsM,
            areasM2: areasM2.map((each) => each * more),
            volumesM3: volumesM3.map((each) => each * more),
          },
        };
        // the same water, so without rain on the basin itself
        const dry = { ...storm, rainMm: storm.rainMm.map(() => 0) };
        const options = { horizonH: 0 };
        expect(fillAndDrain(larger, dry, options).summary.overflowM3).toBeLessThanOrEqual(
          fillAndDrain(basin, dry, options).summary.overflowM3 + 1e-9,
        );
      }),
      runs,
    );
  });

  it('loses nothing between basins in a row', () => {
    fc.assert(
      fc.property(
        someBasin,
        someBasin,
        someStorm,
        someStorm,
        between(0, 7200),
        (upper, lower, first, then, delayS) => {
          const second = stormOf(then);
          const [a, b] = fillInSeries(
            [
              {
                id: 'a',
                basin: built(upper),
                inflow: stormOf(first),
                overflowsTo: { id: 'b', delayS },
              },
              { id: 'b', basin: built(lower), inflow: second, overflowsTo: null },
            ],
            { horizonH: 2 },
          );
          const own = second.runOnM3.reduce((sum, each) => sum + each, 0);
          expect(b.fromOverflowM3).toBe(a.summary.overflowM3);
          expect(b.summary.runOnM3).toBeCloseTo(own + a.summary.overflowM3, 9);
        },
      ),
      { numRuns: 300, seed: 7 },
    );
  });
});
