import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  capacityMPerS,
  pondingTimeS,
  soakedByRainM,
  soakedUnderWaterM,
  type GreenAmptSoil,
} from '../../../lib/soil/green-ampt';
import { GreenAmptFloor } from '../../../lib/soil/green-ampt-floor';

const runs = { seed: 20_240_611, numRuns: 200 };
const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const soils: fc.Arbitrary<GreenAmptSoil> = fc.record({
  conductivityMPerS: fc.oneof(fc.constant(0), within(1e-10, 1e-3)),
  suctionM: fc.oneof(fc.constant(0), within(1e-6, 1e4)),
  deficit: fc.oneof(fc.constant(0), within(1e-3, 0.6)),
});
const soaked = fc.oneof(fc.constant(0), within(1e-9, 10));
const times = fc.oneof(fc.constant(0), within(1e-3, 1e7));
const heads = fc.oneof(fc.constant(0), within(1e-4, 0.5));

describe('infiltration under water', () => {
  it('solves the equation it states', () => {
    fc.assert(
      fc.property(soils, soaked, times, heads, (soil, fromM, timeS, headM) => {
        const toM = soakedUnderWaterM(soil, fromM, timeS, headM);
        const draw = (soil.suctionM + headM) * soil.deficit;
        const gravityM = soil.conductivityMPerS * timeS;
        const left =
          toM - fromM - (draw > 0 ? draw * Math.log1p((toM - fromM) / (fromM + draw)) : 0);
        // The plain form of the left side loses figures of `toM` and `draw`, which the tolerance allows for.
        expect(Math.abs(left - gravityM)).toBeLessThanOrEqual(
          1e-9 * gravityM + 1e-13 * (toM + draw),
        );
      }),
      runs,
    );
  });

  it('takes never less than gravity draws, more under more water, and more in more time', () => {
    fc.assert(
      fc.property(soils, soaked, times, heads, (soil, fromM, timeS, headM) => {
        const toM = soakedUnderWaterM(soil, fromM, timeS, headM);
        expect(Number.isFinite(toM)).toBe(true);
        expect(toM - fromM).toBeGreaterThanOrEqual(
          soil.conductivityMPerS * timeS * (1 - 1e-9) - 1e-15 * fromM,
        );
        const slack = 1e-12 * (1 + toM);
        expect(soakedUnderWaterM(soil, fromM, timeS, headM + 0.1)).toBeGreaterThanOrEqual(
          toM - slack,
        );
        expect(soakedUnderWaterM(soil, fromM, 2 * timeS, headM)).toBeGreaterThanOrEqual(
          toM - slack,
        );
      }),
      runs,
    );
  });

  it('comes to the same in one step as in two', () => {
    fc.assert(
      fc.property(soils, soaked, times, within(0, 1), heads, (soil, fromM, timeS, share, headM) => {
        const once = soakedUnderWaterM(soil, fromM, timeS, headM);
        const half = soakedUnderWaterM(soil, fromM, share * timeS, headM);
        const twice = soakedUnderWaterM(soil, half, (1 - share) * timeS, headM);
        expect(Math.abs(twice - once)).toBeLessThanOrEqual(1e-8 * once);
      }),
      runs,
    );
  });

  it('has its rate as its slope', () => {
    fc.assert(
      fc.property(soils, within(1e-3, 1), heads, (soil, fromM, headM) => {
        const capacity = capacityMPerS(soil, fromM, headM);
        const timeS = (1e-5 * fromM) / Math.max(capacity, 1e-12);
        const slope = (soakedUnderWaterM(soil, fromM, timeS, headM) - fromM) / timeS;
        expect(Math.abs(slope - capacity)).toBeLessThanOrEqual(1e-4 * capacity + 1e-15);
      }),
      runs,
    );
  });
});

describe('infiltration into next to no room', () => {
  it('stays a number, and a steady rate', () => {
    fc.assert(
      fc.property(within(0, 1e-9), soaked, times, heads, (deficit, fromM, timeS, headM) => {
        const soil = { conductivityMPerS: 1e-6, suctionM: 0.1, deficit };
        const tookM = soakedUnderWaterM(soil, fromM, timeS, headM) - fromM;
        expect(tookM).toBeGreaterThanOrEqual(1e-6 * timeS * (1 - 1e-9) - 1e-14 * fromM);
        expect(tookM).toBeLessThanOrEqual(1e-6 * timeS + 1e-4 * Math.sqrt(timeS) * 1e-3 + 1e-8);
      }),
      runs,
    );
  });
});

describe('infiltration of rain', () => {
  it('never takes more than falls, and stands once the rain outruns the soil', () => {
    fc.assert(
      fc.property(soils, within(1e-8, 1e-4), times, (soil, rain, timeS) => {
        const soakedM = soakedByRainM(soil, rain, timeS);
        expect(soakedM).toBeLessThanOrEqual(rain * timeS * (1 + 1e-9));
        const pondsAtS = pondingTimeS(soil, rain);
        if (Number.isFinite(pondsAtS) && pondsAtS > 0) {
          expect(capacityMPerS(soil, rain * pondsAtS) / rain).toBeCloseTo(1, 6);
        }
      }),
      runs,
    );
  });
});

describe('the floor in steps', () => {
  it('loses no water: what it returns is what it holds, and never more than there is', () => {
    const supplies = fc.array(fc.tuple(within(1, 3600), within(0, 0.05), heads), { maxLength: 50 });
    fc.assert(
      fc.property(soils, supplies, (soil, steps) => {
        const floor = new GreenAmptFloor(soil);
        let sum = 0;
        for (const [stepS, supplyM, headM] of steps) {
          const before = floor.soakedM;
          const tookM = floor.advance(stepS, supplyM, headM);
          expect(tookM).toBeLessThanOrEqual(supplyM);
          expect(tookM).toBeGreaterThanOrEqual(0);
          if (supplyM > 0) expect(floor.soakedM).toBe(before + tookM);
          sum += tookM;
        }
        expect(floor.soakedM).toBeLessThanOrEqual(sum * (1 + 1e-12));
      }),
      runs,
    );
  });

  const soil = { conductivityMPerS: 1.8e-6, suctionM: 0.167, deficit: 0.34 };

  it('converges to rain that ponds as the steps grow shorter', () => {
    const rain = 5e-5;
    const exact = soakedByRainM(soil, rain, 3600);
    const errors = [600, 100, 10, 1].map((stepS) => {
      const floor = new GreenAmptFloor(soil);
      for (let timeS = 0; timeS < 3600; timeS += stepS) floor.advance(stepS, rain * stepS, 0);
      return Math.abs(floor.soakedM - exact) / exact;
    });
    expect(errors[0]).toBeLessThan(0.005);
    expect(errors[3]).toBeLessThan(1e-6);
    for (let i = 1; i < errors.length; i++) expect(errors[i]).toBeLessThan(errors[i - 1]);
  });

  it('halves its error with the step while a pool soaks away', () => {
    const soakedIn = (stepS: number): number => {
      const floor = new GreenAmptFloor(soil);
      let poolM = 0.15;
      for (let timeS = 0; timeS < 4 * 3600; timeS += stepS) {
        poolM -= floor.advance(stepS, poolM, poolM);
      }
      expect(poolM + floor.soakedM).toBeCloseTo(0.15, 14);
      return floor.soakedM;
    };
    const [coarse, middle, fine] = [600, 300, 150].map(soakedIn);
    const ratio = (coarse - middle) / (middle - fine);
    expect(ratio).toBeGreaterThan(1.5);
    expect(ratio).toBeLessThan(3);
    expect(Math.abs(middle - fine) / fine).toBeLessThan(0.01);
  });
});
