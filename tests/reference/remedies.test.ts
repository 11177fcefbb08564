import { describe, expect, it } from 'vitest';
import { manningVelocityMPerS } from '../../lib/basin/overflow/erosion';
import { ground } from '../../lib/ground/ground';
import { pipeCapacityM3PerS } from '../../lib/ground/pipe-capacity';
import { gradeAway } from '../../lib/remedies/figures';
import { cellAt } from '../../lib/elevation/grid';
import { ledger } from '../../lib/drainage/answer/ledger';
import { shapeGround } from '../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../lib/drainage/storm/storm-on-ground';
import { box, groundOf, lineOf, planOf, polygonOf } from '../unit/ground/plane-lot';

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

  it('a 6 in pipe at 1/8 in/ft takes 21,400 ft2 at 1 in/h: 621.3 m2 at 3.2 in/h', () => {
    expect((21_400 / 3.2) * 0.3048 ** 2).toBeCloseTo(621.3, 1);
    // by Manning the same pipe carries more than that roof sends: the code has room to spare
    const sentM3PerS = (621.3 * 3.2 * 0.0254) / 3600;
    expect(pipeCapacityM3PerS(0.1524, 1 / 96)).toBeGreaterThan(sentM3PerS * 0.99);
  });

  it('a bed that falls 1 % from 0.30 m below a plane of 2 % comes out after 30 m', () => {
    const plane = groundOf(50, 9, 0.5, (x) => 5 - 0.02 * x);
    const swale = lineOf(
      'swale',
      [
        [5, 4.25],
        [35, 4.25],
      ],
      {
        kind: 'swale',
        width_m: 1.2,
        depth_m: 0.3,
        side_slope: 3,
        bed_below_m: [0.3, 0],
        least_fall: 0.01,
      },
    );
    const made = ground(plane, planOf([swale]));
    const depthAt = (x: number) => {
      const cell = cellAt(made.grid, x, 4.25);
      return plane.z[cell] + plane.datumM - made.grid.z[cell] - made.grid.datumM;
    };
    expect(depthAt(5.25)).toBeCloseTo(0.3, 1);
    expect(depthAt(20.25)).toBeCloseTo(0.15, 1);
    expect(depthAt(34.75)).toBeLessThan(0.02);
    expect(depthAt(36.25)).toBeCloseTo(0, 6);
  });

  it('hollows that are drained pass on what they held, and nothing else', () => {
    // two round hollows above a line, full in a storm; drained by a swale each, all of it crosses the line
    const bowl = (x: number, y: number, atX: number, atY: number, m: number, deep: number) =>
      Math.max(0, deep * (1 - Math.hypot(x - atX, y - atY) / m));
    const elevation = groundOf(
      50,
      40,
      0.5,
      (x, y) => 5 - 0.02 * x - bowl(x, y, 15, 12, 4, 0.4) - bowl(x, y, 15, 28, 3, 0.25),
    );
    const lots = [
      polygonOf('own', box(5, 4, 35, 36), { kind: 'lot', own: true }),
      polygonOf('below', box(35, 4, 48, 36), { kind: 'lot', own: false }),
    ];
    const swale = (id: string, y: number) =>
      lineOf(
        id,
        [
          [15, y],
          [38, y],
        ],
        {
          kind: 'swale',
          width_m: 1.2,
          depth_m: 0.1,
          side_slope: 3,
          bed_below_m: [0, 0.1],
          least_fall: 0.005,
        },
      );
    const settle = (features: Parameters<typeof planOf>[0]) => {
      const plan = planOf(features, { storm: { rain_mm: 100 } });
      const shape = shapeGround(elevation, plan);
      const storm = stormOnGround(shape, plan, 100);
      return ledger(shape, storm, plan, 0);
    };
    const before = settle(lots);
    const after = settle([...lots, swale('one', 12), swale('two', 28)]);
    expect(before.standing_m3).toBeGreaterThan(2);
    const lost = before.standing_m3 - after.standing_m3;
    expect(lost).toBeGreaterThan(0.8 * before.standing_m3);
    const more = after.passed_on_m3 - after.run_on_m3 - (before.passed_on_m3 - before.run_on_m3);
    expect(more).toBeCloseTo(lost, 9);
  });
});
