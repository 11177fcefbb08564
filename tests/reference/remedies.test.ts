import { describe, expect, it } from 'vitest';
import { manningVelocityMPerS } from '../../lib/basin/overflow/erosion';
import { ground } from '../../lib/ground/ground';
import { pipeCapacityM3PerS } from '../../lib/ground/pipe-capacity';
import { gradeAway } from '../../lib/remedies/figures';
import { cellAt } from '../../lib/elevation/grid';
import { box, groundOf, planOf, polygonOf } from '../unit/ground/plane-lot';

/** Worked examples of handbooks and codes, and sums done by hand. */
describe('figures that remedies are made by', () => {
  it('6 in over 10 ft: a wall line at 100.00 m asks for 99.848 m', () => {
    expect(100 - gradeAway.fall * gradeAway.reachM).toBeCloseTo(99.848, 3);
  });

  it('1 in on 1,000 ft2 of roof is about 623 gal', () => {
    const m3 = 0.0254 * 1000 * 0.3048 ** 2;
    expect(m3).toBeCloseTo(2.36, 2);
    expect(m3 / 0.003785411784).toBeCloseTo(623, 0);
  });

  it.each([
    [0.1, 0.01, 5.17],
    [0.1, 0.02, 7.31],
    [0.15, 0.01, 15.2],
  ])('a pipe of %d m at %d carries %d l/s by table', (diameterM, slope, litres) => {
    expect(1000 * pipeCapacityM3PerS(diameterM, slope)).toBeCloseTo(litres, 1);
  });

  it.each([
    [0.05, 0.494, 44.5],
    [0.03, 0.824, 74.1],
    [0.24, 0.103, 9.3],
  ])('a swale of 0.6 m, 3:1, 0.10 m deep at 2 %%, n %d', (n, velocity, litres) => {
    const areaM2 = 0.1 * (0.6 + 3 * 0.1);
    const perimeterM = 0.6 + 2 * 0.1 * Math.sqrt(10);
    const v = manningVelocityMPerS(areaM2 / perimeterM, 0.02, n);
    expect(v).toBeCloseTo(velocity, 3);
    expect(1000 * v * areaM2).toBeCloseTo(litres, 1);
  });

  it('a level strip of 3 by 10 m graded to 5 % about its middle cuts and fills 0.5625 m3', () => {
    const before = groundOf(20, 14, 0.05, () => 5);
    const strip = polygonOf('strip', box(8, 2, 11, 12), {
      kind: 'regrade',
      slope: 0.05,
      bearing_deg: 90,
      elevation_m: 105,
      side_slope: 0,
    });
    const made = ground(before, planOf([strip]));
    const edit = made.edits.find(({ id }) => id === 'strip');
    expect(edit?.cutM3).toBeCloseTo(0.5625, 2);
    expect(edit?.fillM3).toBeCloseTo(0.5625, 2);
    const z = (x: number) => made.grid.z[cellAt(made.grid, x, 7)];
    expect((z(8.1) - z(10.9)) / 2.8).toBeCloseTo(0.05, 2);
  });
});
