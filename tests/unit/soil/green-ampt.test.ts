import { describe, expect, it } from 'vitest';
import { capacityMPerS, pondingTimeS, soakedUnderWaterM } from '../../../lib/soil/green-ampt';
import { GreenAmptFloor, restS } from '../../../lib/soil/green-ampt-floor';
import { greenAmptSoil } from '../../../lib/soil/green-ampt-soil';

const loam = { conductivityMPerS: 1e-6, suctionM: 0.09, deficit: 0.2 };

describe('Green-Ampt at its limits', () => {
  it('takes nothing where nothing passes', () => {
    const tight = { ...loam, conductivityMPerS: 0 };
    expect(soakedUnderWaterM(tight, 0, 1e6, 0.2)).toBe(0);
    expect(capacityMPerS(tight, 0, 0.2)).toBe(0);
  });

  it('takes its steady rate where there is no room to fill', () => {
    const full = { ...loam, deficit: 0 };
    expect(soakedUnderWaterM(full, 0.01, 1000)).toBeCloseTo(0.011, 12);
    expect(capacityMPerS(full, 0)).toBe(1e-6);
  });

  it('follows the square root of time where suction is all that counts', () => {
    const dry = { ...loam, suctionM: 1e9 };
    const expected = Math.sqrt(2 * 1e-6 * 1000 * 1e9 * 0.2);
    expect(soakedUnderWaterM(dry, 0, 1000) / expected).toBeCloseTo(1, 4);
  });

  it('never ponds in rain slower than the soil', () => {
    expect(pondingTimeS(loam, 1e-6)).toBe(Number.POSITIVE_INFINITY);
    expect(pondingTimeS(loam, 1.1e-6)).toBeGreaterThan(0);
  });
});

describe('a floor between storms', () => {
  it('keeps its wetness over a short break and starts afresh after a long one', () => {
    const floor = new GreenAmptFloor(loam);
    floor.advance(3600, 1, 0.1);
    const wet = floor.soakedM;
    floor.advance(restS / 2, 0, 0);
    expect(floor.soakedM).toBe(wet);
    floor.advance(60, 0.001, 0);
    floor.advance(restS / 2, 0, 0);
    expect(floor.soakedM).toBeGreaterThan(wet);
    floor.advance(restS / 2, 0, 0);
    expect(floor.soakedM).toBe(0);
  });
});

describe('the floor’s soil', () => {
  it('is unknown while the rate is', () => {
    expect(greenAmptSoil({ rateMPerS: null, soil: { texture: 'loam' } }, undefined)).toBeNull();
  });

  it('has no suction without a texture', () => {
    expect(greenAmptSoil({ rateMPerS: 1e-6, soil: { texture: null } }, undefined)?.soil).toEqual({
      conductivityMPerS: 1e-6,
      suctionM: 0,
      deficit: 0,
    });
  });

  it('takes the wetness that the plan gives, and else that of drained soil', () => {
    const given = greenAmptSoil(
      { rateMPerS: 1e-6, soil: { texture: 'loam' } },
      { initial_saturation: 0.3 },
    );
    expect(given?.soil.deficit).toBeCloseTo(0.7 * 0.434, 12);
    // Loam: porosity 0.463, field capacity 0.32.
    const drained = greenAmptSoil({ rateMPerS: 1e-6, soil: { texture: 'loam' } }, undefined);
    expect(drained?.soil.deficit).toBeCloseTo(0.463 - 0.32, 12);
  });

  it('says so when figures of another texture stand in', () => {
    const silt = greenAmptSoil({ rateMPerS: 1e-6, soil: { texture: 'silt' } }, undefined);
    expect(silt?.soil.suctionM).toBe(0.1668);
    expect(silt?.notes[0]).toContain('those of silt loam stand in');
  });
});
