import { describe, expect, it } from 'vitest';
import { ledger } from '../../../lib/drainage/answer/ledger';
import { worksNotJudged } from '../../../lib/drainage/answer/works-not-judged';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { soakawayRooms } from '../../../lib/drainage/storm/soakaway-room';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { Grid } from '../../../lib/elevation/grid';
import type { PlanFeature, Settings } from '../../../lib/plan/schema';
import { box, frame, groundOf, lineOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

/** Falls 4 % to the south. */
const plane = () => groundOf(60, 60, 0.5, (_, y) => 3 + 0.04 * y);
const lot = polygonOf('own', box(5, 5, 55, 50), { kind: 'lot', own: true });
const roof = polygonOf('roof', box(20, 30, 30, 40), { kind: 'roof' });

function after(grid: Grid, features: readonly PlanFeature[], settings: Partial<Settings> = {}) {
  const plan = planOf([lot, ...features], { storm: { rain_mm: 40 }, ...settings });
  const shape = shapeGround(grid, plan);
  const storm = stormOnGround(shape, plan, 40);
  const row = ledger(shape, storm, plan, 0);
  expect(Math.abs(row.error_m3)).toBeLessThan(1e-9);
  return { plan, storm, row, grid: shape.ground.grid, notes: storm.roofs.notes.join('\n') };
}

describe('a soakaway', () => {
  const pit = polygonOf('pit', box(24, 20, 26, 22), {
    kind: 'soakaway',
    depth_m: 1.2,
    void_ratio: 0.4,
  });
  const spout = (more: object = {}): PlanFeature =>
    pointOf('spout', [25, 30], { kind: 'downspout', roof: 'roof', ...more });
  const toPit = spout({ outlet: frame.toLngLat([25, 21]) });

  it('has the gaps of its stone, and its bottom’s soak while the storm lasts', () => {
    const plan = planOf([pit], {
      soil: { rate_mm_per_h: 12 },
      storm: { rain_mm: 40, duration_h: 3 },
    });
    const [room] = soakawayRooms(plan);
    // 2 m by 2 m by 1.2 m, 0.4 of it; 4 m2 at 12 mm/h for 3 h.
    expect(room.storageM3).toBeCloseTo(1.92, 6);
    expect(room.soakM3).toBeCloseTo(0.144, 6);
    expect(soakawayRooms(planOf([pit]))[0].soakM3).toBeGreaterThan(0);
  });

  it('takes what it has room for of the roof that leads there, the rest comes up', () => {
    const without = after(plane(), [roof, toPit]);
    const { row, storm, notes } = after(plane(), [roof, toPit, pit], {
      soil: { rate_mm_per_h: 0 },
    });
    expect(storm.roofFlows[0].volumeM3).toBeGreaterThan(1.92);
    expect(row.barrel_m3).toBeCloseTo(1.92, 6);
    expect(without.row.barrel_m3).toBe(0);
    expect(without.row.passed_on_m3).toBeGreaterThan(row.passed_on_m3);
    expect(notes).toMatch(/pit holds 1\.92 m3.*not counted/);
  });

  it('is reached by a pipe too, and says when nothing leads there', () => {
    const pipe = lineOf(
      'pipe',
      [
        [25, 29],
        [25, 21],
      ],
      { kind: 'drain-pipe' },
    );
    expect(
      after(plane(), [roof, spout({ pipe: 'pipe' }), pipe, pit]).row.barrel_m3,
    ).toBeGreaterThan(1.9);
    const none = after(plane(), [roof, spout(), pit]);
    expect(none.row.barrel_m3).toBe(0);
    expect(none.notes).toMatch(/Nothing leads into pit/);
  });
});

describe('a trench drain', () => {
  const grate = (more: object = {}): PlanFeature =>
    lineOf(
      'grate',
      [
        [10, 20.2],
        [50, 20.2],
      ],
      { kind: 'trench-drain', outlet: 'storm-sewer', capacity_m3_per_h: 1000, ...more },
    );

  it('takes what runs across it', () => {
    const dry = after(plane(), []);
    const { row } = after(plane(), [grate()]);
    // 40 m of the lot's 50 m width are drained from 30 m of its 45 m.
    expect(row.sewer_m3).toBeGreaterThan(0.4 * dry.row.passed_on_m3);
    expect(row.sewer_m3 + row.passed_on_m3 + row.standing_m3).toBeCloseTo(
      dry.row.passed_on_m3 + dry.row.standing_m3,
      1,
    );
  });

  it('takes nothing when blocked, and no more than it can', () => {
    expect(after(plane(), [grate({ blocked: true })]).row.sewer_m3).toBe(0);
    const { storm } = after(plane(), [grate({ capacity_m3_per_h: 0.5 })]);
    expect(storm.conduits[0].volumeM3).toBeCloseTo(0.5, 6);
  });
});

describe('what is not judged', () => {
  /** A hollow of 20 cm in the middle. */
  const hollow = () =>
    groundOf(60, 60, 0.5, (x, y) => 3 - 0.2 * Math.exp(-((x - 30) ** 2 + (y - 25) ** 2) / 40));
  const well = (rim_m: number, x = 30): PlanFeature =>
    pointOf('well', [x, 25], { kind: 'window-well', rim_m });
  const said = (...features: PlanFeature[]): string => {
    const { plan, storm, grid } = after(hollow(), features);
    return worksNotJudged(plan, grid, storm.depthM).join('\n');
  };

  it('says whether standing water comes over the rim of a window well', () => {
    expect(said(well(0.02))).toMatch(
      /water stands \d+ cm deep there and comes over its rim of 2 cm/,
    );
    expect(said(well(0.5))).toMatch(/stays below its rim of 50 cm/);
    expect(said(well(0, 7))).toMatch(/no water stands at its rim/);
  });

  it('says why of French drains and fences', () => {
    const line = [
      [10, 10],
      [20, 10],
    ] as const;
    expect(said(lineOf('curtain', line, { kind: 'french-drain' }))).toMatch(/curtain: not judged/);
    expect(said(lineOf('pickets', line, { kind: 'fence' }))).toMatch(
      /pickets: water runs on below/,
    );
    expect(said()).toBe('');
  });
});
