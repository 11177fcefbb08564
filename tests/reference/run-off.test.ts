import { describe, expect, it } from 'vitest';
import { curveNumber } from '../../lib/storm/curve-numbers';
import { runOffMm } from '../../lib/storm/run-off';

const inch = 25.4;

/** Technical Release 55 (USDA SCS, 1986), table 2-1 (seen), run-off in inches; printed to two decimals. */
const curveNumbers = [40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 98];
const table: Record<string, number[]> = {
  '1.0': [0, 0, 0, 0, 0, 0, 0, 0.03, 0.08, 0.17, 0.32, 0.56, 0.79],
  '1.2': [0, 0, 0, 0, 0, 0, 0.03, 0.07, 0.15, 0.27, 0.46, 0.74, 0.99],
  '1.4': [0, 0, 0, 0, 0, 0.02, 0.06, 0.13, 0.24, 0.39, 0.61, 0.92, 1.18],
  '1.6': [0, 0, 0, 0, 0.01, 0.05, 0.11, 0.2, 0.34, 0.52, 0.76, 1.11, 1.38],
  '1.8': [0, 0, 0, 0, 0.03, 0.09, 0.17, 0.29, 0.44, 0.65, 0.93, 1.29, 1.58],
  '2.0': [0, 0, 0, 0.02, 0.06, 0.14, 0.24, 0.38, 0.56, 0.8, 1.09, 1.48, 1.77],
  '2.5': [0, 0, 0.02, 0.08, 0.17, 0.3, 0.46, 0.65, 0.89, 1.18, 1.53, 1.96, 2.27],
  '3.0': [0, 0.02, 0.09, 0.19, 0.33, 0.51, 0.71, 0.96, 1.25, 1.59, 1.98, 2.45, 2.77],
  '3.5': [0.02, 0.08, 0.2, 0.35, 0.53, 0.75, 1.01, 1.3, 1.64, 2.02, 2.45, 2.94, 3.27],
  '4.0': [0.06, 0.18, 0.33, 0.53, 0.76, 1.03, 1.33, 1.67, 2.04, 2.46, 2.92, 3.43, 3.77],
  '5.0': [0.24, 0.44, 0.69, 0.98, 1.3, 1.65, 2.04, 2.45, 2.89, 3.37, 3.88, 4.42, 4.76],
  '6.0': [0.5, 0.8, 1.14, 1.52, 1.92, 2.35, 2.81, 3.28, 3.78, 4.3, 4.85, 5.41, 5.76],
};

describe('run-off by curve number', () => {
  it.each(Object.entries(table))('reproduces the row for %s in of TR-55 table 2-1', (rain, row) => {
    row.forEach((printed, column) => {
      const computed = runOffMm(Number(rain) * inch, curveNumbers[column]) / inch;
      expect(Math.abs(computed - printed)).toBeLessThanOrEqual(0.0051);
    });
  });

  it('reproduces the examples of NEH 630 chapter 10: 4.3 in on CN 74, 55, 88', () => {
    expect(runOffMm(4.3 * inch, 74) / inch).toBeCloseTo(1.82, 2);
    expect(runOffMm(4.3 * inch, 55) / inch).toBeCloseTo(0.65, 2);
    expect(runOffMm(4.3 * inch, 88) / inch).toBeCloseTo(3.01, 2);
  });

  it('gives nothing up to the initial loss', () => {
    const retention = 25.4 * (1000 / 65 - 10);
    expect(runOffMm(0.2 * retention, 65)).toBe(0);
    expect(runOffMm(0.2 * retention + 0.1, 65)).toBeGreaterThan(0);
  });

  it('gives more from a roof and a lawn apart than from their averaged curve number', () => {
    const apart = (1000 * runOffMm(inch, 98) + 2000 * runOffMm(inch, 74)) / inch / 12;
    const averaged = (3000 * runOffMm(inch, 82)) / inch / 12;
    expect(apart).toBeCloseTo(69.77, 1);
    expect(averaged).toBeCloseTo(28.55, 1);
  });

  it('reads TR-55 table 2-2a: lawn in good condition is 39, 61, 74, 80 by soil group', () => {
    expect(
      (['A', 'B', 'C', 'D'] as const).map((group) => curveNumber('lawn', 'good', group)),
    ).toEqual([39, 61, 74, 80]);
  });
});
