import { describe, expect, it } from 'vitest';
import { checkErosion, grassLimit } from '../../../../lib/basin/overflow/erosion';
import { checkInlet, checkNotch } from '../../../../lib/basin/overflow/notch';
import { weirCoefficients, weirFlowM3PerS } from '../../../../lib/basin/form/weir';

const notch = { widthM: 1, freeboardM: 0.15, sideSlope: 3 };
const C = weirCoefficients.grass.metric;

describe('an overflow notch', () => {
  it('passes a peak that leaves more than half the freeboard', () => {
    const peakM3PerS = weirFlowM3PerS(C, 1, 0.03);
    const found = checkNotch({ ...notch, peakM3PerS });
    expect(found.headM).toBeCloseTo(0.03, 9);
    expect(found.clearM).toBeCloseTo(0.12, 9);
    expect(found.result).toBe('pass');
    expect(found.capacityM3PerS).toBeCloseTo(weirFlowM3PerS(C, 1, 0.15), 12);
  });

  it('asks for a check when less is left, and fails when the peak runs over the rim', () => {
    const stone = { ...notch, surface: 'stone' } as const;
    const S = weirCoefficients.stone.metric;
    expect(checkNotch({ ...stone, peakM3PerS: weirFlowM3PerS(S, 1, 0.1) }).result).toBe('check');
    const over = checkNotch({ ...stone, peakM3PerS: weirFlowM3PerS(S, 1, 0.16) });
    expect(over.result).toBe('fail');
    expect(over.why).toMatch(/16\.0 cm over the sill, 1\.0 cm over the rim/);
  });

  it('finds the width that the peak needs with half the freeboard clear', () => {
    const peakM3PerS = 0.08;
    const { widthForPeakM } = checkNotch({ ...notch, peakM3PerS });
    const widened = checkNotch({ ...notch, widthM: widthForPeakM, peakM3PerS });
    expect(widened.clearM).toBeCloseTo(0.075, 9);
  });

  it('tells when grass would wash out down the berm, which stone mends', () => {
    const peakM3PerS = 0.06;
    const wide = { ...notch, freeboardM: 0.3, peakM3PerS };
    const grass = checkNotch(wide);
    expect(grass.downBerm.velocityMPerS).toBeGreaterThan(grassLimit.toMPerS);
    expect(grass.result).toBe('fail');
    expect(grass.why).toMatch(/stone/);
    expect(checkNotch({ ...wide, surface: 'stone' }).result).toBe('pass');
  });

  it('has no trouble without overflow, and no way out without a notch', () => {
    expect(checkNotch({ ...notch, peakM3PerS: 0 })).toMatchObject({ result: 'pass', headM: 0 });
    const closed = checkNotch({ ...notch, widthM: 0, peakM3PerS: 0.01 });
    expect(closed.result).toBe('fail');
    expect(closed.why).toMatch(/no width/);
    const level = checkNotch({ ...notch, freeboardM: 0, peakM3PerS: 0.01 });
    expect(level.result).toBe('fail');
    expect(level.widthForPeakM).toBe(Infinity);
  });
});

describe('water over grass', () => {
  it('is borne to 3 ft/s, doubtful to 5, too fast beyond', () => {
    expect(checkErosion(0.914).result).toBe('pass');
    expect(checkErosion(0.92).result).toBe('check');
    expect(checkErosion(1.53).result).toBe('fail');
  });

  it('comes in fastest down the side of the bowl, or over a lead-in that is steeper still', () => {
    const inlet = { peakM3PerS: 0.01, widthM: 0.5, slope: 0.02 };
    const side = checkInlet(inlet, 3);
    expect(side.velocityMPerS).toBeCloseTo(
      checkInlet({ ...inlet, slope: 0.1 }, 3).velocityMPerS,
      12,
    );
    expect(checkInlet({ ...inlet, slope: 0.5 }, 3).velocityMPerS).toBeGreaterThan(
      side.velocityMPerS,
    );
  });
});
