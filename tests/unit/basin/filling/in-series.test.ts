import { describe, expect, it } from 'vitest';
import { fillInSeries, type LinkedBasin } from '../../../../lib/basin/filling/in-series';
import { InputError } from '../../../../lib/errors';
import { inflow, onSoil, roundBowl } from '../made-basins';

const small = onSoil(roundBowl(1, 2, 0.1, 0.15), 0);
const linked = (
  id: string,
  to: string | null,
  runOn: readonly number[],
  delayS = 0,
): LinkedBasin => ({
  id,
  basin: small,
  inflow: inflow(600, runOn),
  overflowsTo: to === null ? null : { id: to, delayS },
});

describe('basins in series', () => {
  it('the lower one gets what the upper one cannot hold, and later by the way between', () => {
    const soon = fillInSeries([linked('b', null, [0]), linked('a', 'b', [1, 1, 1])]);
    expect(soon.map(({ id }) => id)).toEqual(['b', 'a']);
    const [b, a] = soon;
    expect(a.fromOverflowM3).toBe(0);
    expect(a.summary.overflowM3).toBeGreaterThan(2);
    expect(b.fromOverflowM3).toBe(a.summary.overflowM3);
    expect(b.summary.inflowM3).toBeCloseTo(a.summary.overflowM3, 9);
    const [late] = fillInSeries([linked('b', null, [0]), linked('a', 'b', [1, 1, 1], 900)]);
    expect(late.summary.peakAtS - b.summary.peakAtS).toBeGreaterThanOrEqual(600);
    expect(late.summary.peakAtS - b.summary.peakAtS).toBeLessThanOrEqual(1200);
    expect(late.summary.inflowM3).toBeCloseTo(b.summary.inflowM3, 9);
  });

  it('three in a row, given in any order', () => {
    const chain = [linked('c', null, []), linked('a', 'b', [4]), linked('b', 'c', [0.1])];
    const [c, a, b] = fillInSeries(chain);
    expect(b.summary.inflowM3).toBeCloseTo(0.1 + a.summary.overflowM3, 9);
    expect(c.summary.inflowM3).toBeCloseTo(b.summary.overflowM3, 9);
  });

  it('refuses a circle, with the way out', () => {
    const circle = [linked('a', 'b', [1]), linked('b', 'a', [1]), linked('c', null, [1])];
    expect(() => fillInSeries(circle)).toThrow(InputError);
    expect(() => fillInSeries(circle)).toThrow(/a, b.*comes back.*move a notch/);
    expect(() => fillInSeries([linked('a', 'a', [1])])).toThrow(/comes back/);
  });
});
