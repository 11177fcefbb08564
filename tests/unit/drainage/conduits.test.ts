import { describe, expect, it } from 'vitest';
import { contributingArea } from '../../../lib/drainage/answer/contributing-area';
import { ledger, type Ledger } from '../../../lib/drainage/answer/ledger';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround, type StormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { XY } from '../../../lib/frame/frame';
import { cellsInside } from '../../../lib/ground/rasterise';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, frame, groundOf, lineOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

/** Two bowls 0.5 m deep on ground that falls 2 % to the east: one at x = 15 and one at x = 45. */
const bowls = () =>
  groundOf(60, 30, 0.5, (x, y) => {
    const bowl = (at: number) => Math.max(0, 0.5 * (1 - ((x - at) ** 2 + (y - 15) ** 2) / 36));
    return 8 - 0.02 * x - bowl(15) - bowl(45);
  });
const lots: readonly PlanFeature[] = [
  polygonOf('west', box(0, 0, 30, 30), { kind: 'lot', own: true }),
  polygonOf('east', box(30, 0, 60, 30), { kind: 'lot', own: false }),
];
const west: XY = [15.2, 15.2];
const east: XY = [45.2, 15.2];

function storm(
  features: readonly PlanFeature[],
  more: object = {},
): { after: StormOnGround; own: Ledger; neighbour: Ledger } {
  const plan = planOf([...lots, ...features], { storm: { rain_mm: 60, ...more } });
  const shape = shapeGround(bowls(), plan);
  const after = stormOnGround(shape, plan, 60);
  const own = ledger(shape, after, plan, 0);
  const neighbour = ledger(shape, after, plan, 1);
  for (const row of [own, neighbour]) expect(Math.abs(row.error_m3)).toBeLessThan(1e-9);
  return { after, own, neighbour };
}

const drain = (more: object): PlanFeature =>
  pointOf('drain', west, { kind: 'yard-drain', capacity_m3_per_h: 1000, ...more });

describe('conduits in a storm', () => {
  const dry = storm([]);

  it('take all that reaches a low spot to the storm sewer', () => {
    const { after, own } = storm([drain({ outlet: 'storm-sewer' })]);
    expect(dry.own.standing_m3).toBeGreaterThan(1);
    expect(own.standing_m3).toBeCloseTo(0, 9);
    expect(own.sewer_m3).toBeCloseTo(after.conduits[0].volumeM3, 9);
    // All that stood there and all that spilled, if any did.
    expect(own.sewer_m3).toBeGreaterThan(dry.own.standing_m3 - 1e-9);
    expect(own.rain_m3).toBeCloseTo(dry.own.rain_m3, 9);
  });

  it('take no more than they can carry in their time', () => {
    const half = dry.own.standing_m3 / 2;
    const { after, own } = storm([drain({ outlet: 'storm-sewer', capacity_m3_per_h: half / 2 })], {
      duration_h: 2,
    });
    expect(after.conduits[0].volumeM3).toBeCloseTo(half, 6);
    expect(own.sewer_m3).toBeCloseTo(half, 6);
    expect(own.standing_m3 + own.passed_on_m3).toBeCloseTo(
      dry.own.standing_m3 + dry.own.passed_on_m3 - half,
      6,
    );
    expect(after.notes.join('\n')).toMatch(/carries all it can/);
  });

  it('take nothing when blocked', () => {
    const { after, own } = storm([drain({ outlet: 'storm-sewer', blocked: true })]);
    expect(after.conduits[0].volumeM3).toBe(0);
    expect(own).toEqual(dry.own);
  });

  it('carry over the lot line, and it is told on both sides', () => {
    const { after, own, neighbour } = storm([drain({ outlet: frame.toLngLat(east) })]);
    const carried = after.conduits[0].volumeM3;
    expect(carried).toBeGreaterThan(1);
    const eastward = (row: Ledger) => row.passed_on_to.find(({ lot }) => lot === 'east')?.volume_m3;
    expect(eastward(own)).toBeCloseTo((eastward(dry.own) ?? 0) + carried, 0);
    expect(own.passed_on_m3 - dry.own.passed_on_m3).toBeCloseTo(
      dry.own.standing_m3 - own.standing_m3,
      6,
    );
    expect(neighbour.run_on_m3).toBeGreaterThan(dry.neighbour.run_on_m3 + 1);
    expect(neighbour.standing_m3).toBeGreaterThan(dry.neighbour.standing_m3 + 0.5);
  });

  it('follow each other: what one lets out the next takes', () => {
    const second = pointOf('second', east, {
      kind: 'yard-drain',
      capacity_m3_per_h: 1000,
      outlet: 'storm-sewer',
    });
    const { after, neighbour } = storm([second, drain({ outlet: frame.toLngLat(east) })]);
    const alone = storm([second]).after.conduits[0].volumeM3;
    const [later, earlier] = after.conduits;
    expect(later.volumeM3).toBeCloseTo(alone + earlier.volumeM3, 6);
    expect(neighbour.standing_m3).toBeCloseTo(0, 9);
  });

  it('that bring their water back to themselves carry nothing, and say so', () => {
    // From the middle of the bowl to a dip lower down in it that is full.
    const grid = groundOf(40, 20, 0.5, (x, y) => {
      const rim = Math.max(Math.abs(x - 20) / 12, Math.abs(y - 10) / 6);
      const dips = (at: number, deep: number) =>
        deep * Math.max(0, 1 - Math.hypot(x - at, y - 10) / 2);
      return rim < 1 ? 4 - dips(14, 0.2) - dips(26, 0.5) : 5;
    });
    const plan = planOf([
      pointOf('drain', [14.2, 10.2], {
        kind: 'yard-drain',
        outlet: frame.toLngLat([26.2, 10.2]),
        capacity_m3_per_h: 5,
      }),
    ]);
    const shape = shapeGround(grid, plan);
    const after = stormOnGround(shape, plan, 200);
    expect(after.conduits[0].volumeM3).toBe(0);
    expect(after.notes.join('\n')).toMatch(/drain carries comes back to its inlet/);
    // A storm that leaves room in the lower dip is carried.
    expect(stormOnGround(shape, plan, 25).conduits[0].volumeM3).toBeGreaterThan(0);
  });

  it('share a pipe and what it can carry', () => {
    const pipe = lineOf('pipe', [west, [55, 15]], {
      kind: 'drain-pipe',
      diameter_m: 0.05,
      slope: 0.005,
      outlet: 'storm-sewer',
    });
    const drains = [west, east].map((at, i) =>
      pointOf(`d${i}`, at, { kind: 'yard-drain', pipe: 'pipe' }),
    );
    const { after } = storm([pipe, ...drains], { duration_h: 0.5 });
    const limit = after.conduits[0].conduit.capacityM3PerS * 1800;
    expect(after.conduits[0].volumeM3 + after.conduits[1].volumeM3).toBeCloseTo(limit, 9);
    expect(Math.min(...after.conduits.map(({ volumeM3 }) => volumeM3))).toBeGreaterThan(0);
  });

  it('on a slope take what passes them', () => {
    const plan = (features: readonly PlanFeature[]) => planOf([...lots, ...features]);
    const grid = groundOf(60, 30, 0.5, (x, y) => 8 - 0.02 * x + 0.05 * Math.abs(y - 15.25));
    const inlet = pointOf('d', [30.2, 15.2], {
      kind: 'yard-drain',
      outlet: 'storm-sewer',
      capacity_m3_per_h: 1000,
    });
    const with_ = plan([inlet]);
    const shape = shapeGround(grid, with_);
    const after = stormOnGround(shape, with_, 60);
    // All the valley above it: its run-off is even, so that is its share of the whole, but for the edge of the map.
    const before = stormOnGround(shapeGround(grid, plan([])), plan([]), 60);
    const passing = before.flow.arrivesM3[after.conduits[0].conduit.inlet];
    expect(passing).toBeGreaterThan(5);
    expect(after.conduits[0].volumeM3 / passing).toBeCloseTo(1, 1);
  });

  it("count in what drains to their outlet in this storm, and not in the ground's own area", () => {
    const answer = (features: readonly PlanFeature[]) => {
      const plan = planOf([...lots, ...features]);
      const shape = shapeGround(bowls(), plan);
      const target = Int32Array.from(cellsInside(shape.ground.grid, [box(44, 14, 46, 16)]));
      return contributingArea(shape, stormOnGround(shape, plan, 20), plan, target, 'x');
    };
    const without = answer([]);
    const piped = answer([drain({ outlet: frame.toLngLat(east) })]);
    expect(piped.area_m2).toBeCloseTo(without.area_m2, 6);
    // In 20 mm the western bowl keeps all its water; drained, it sends all it gets.
    expect(piped.storm_area_m2).toBeGreaterThan(without.storm_area_m2 + Math.PI * 25);
    expect(answer([drain({ outlet: 'storm-sewer' })]).storm_area_m2).toBeCloseTo(
      without.storm_area_m2,
      6,
    );
  });

  it('take nothing more from a sump than it puts out', () => {
    const sump = pointOf('sump', west, { kind: 'sump-outlet', rate_m3_per_h: 2, hours: 3 });
    const { own, after } = storm([sump, drain({ outlet: 'storm-sewer' })]);
    const without = storm([drain({ outlet: 'storm-sewer' })]);
    expect(own.sump_m3).toBe(6);
    expect(own.sewer_m3).toBeCloseTo(without.own.sewer_m3 + 6, 9);
    expect(after.sumps).toHaveLength(1);
  });
});
