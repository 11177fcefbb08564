import { describe, expect, it } from 'vitest';
import { cellsInside } from '../../../lib/ground/rasterise';
import { contributingArea } from '../../../lib/drainage/answer/contributing-area';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { elsewhere } from '../../../lib/drainage/answer/ledger';
import { probePoint } from '../../../lib/drainage/answer/probe-point';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import type { PlanFeature } from '../../../lib/plan/schema';
import { runOffMm } from '../../../lib/storm/run-off';
import { box, frame, groundOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

/** A plane that falls 4 % to the south, 60 m by 60 m, and in it whatever dents are asked for. */
function plane(dent: (x: number, y: number) => number = () => 0) {
  return groundOf(60, 60, 0.5, (x, y) => 3 + 0.04 * y - dent(x, y));
}

function run(elevation: ReturnType<typeof plane>, plan: LocalPlan, rainMm = 40) {
  const shape = shapeGround(elevation, plan);
  const storm = stormOnGround(shape, plan, rainMm);
  return { shape, storm, plan, result: drainLot(shape, storm, plan, { crs: 'test', rmseM: 0.05 }) };
}

const own = (): PlanFeature => polygonOf('own', box(20, 10, 40, 30), { kind: 'lot', own: true });
const uphill = (): PlanFeature =>
  polygonOf('uphill', box(20, 30, 40, 50), { kind: 'lot', own: false, name: 'Uphill' });

describe('a storm on a plane', () => {
  it('puts run-on down to the lot uphill and passes it on downhill', () => {
    const { result, storm, shape } = run(plane(), planOf([own(), uphill()]));
    const lawnMm = runOffMm(40, 74);
    const { ledger } = result;
    expect(ledger?.rain_m3).toBeCloseTo(400 * 0.04, 6);
    expect(ledger?.soaked_m3).toBeCloseTo(400 * (0.04 - lawnMm / 1000), 6);
    // Straight down the plane: 20 m of width, from the lot's upper line to the top; the outermost row leaves the map.
    const { grid } = shape.ground;
    const topRow = [...cellsInside(grid, [box(20, 29.5, 40, 30)])];
    const crosses = topRow.reduce((sum, cell) => sum + storm.flow.arrivesM3[cell], 0);
    expect(crosses).toBeCloseTo((600 * lawnMm) / 1000, 6);
    // Water spreads sideways too: some enters over the sides that would not have been there by the plane alone.
    expect(ledger?.run_on_m3).toBeGreaterThan((590 * lawnMm) / 1000);
    expect(ledger?.run_on_m3).toBeLessThan((1.3 * 590 * lawnMm) / 1000);
    expect(ledger?.run_on_from[0].lot).toBe('uphill');
    expect(ledger?.passed_on_to[0].name).toBe(elsewhere);
    expect(Math.abs(ledger?.error_m3 ?? 1)).toBeLessThan(1e-9);
  });

  it('grows with rain and is nought without', () => {
    const plan = planOf([own(), uphill()]);
    let before = -1;
    for (const rainMm of [0, 5, 20, 60, 150]) {
      const passed = run(plane(), plan, rainMm).result.ledger?.passed_on_m3 ?? NaN;
      expect(passed).toBeGreaterThanOrEqual(before);
      before = passed;
    }
    expect(run(plane(), plan, 0).result.ledger?.passed_on_m3).toBe(0);
  });

  it('lets a building turn water aside, and counts none of the ground below it', () => {
    const building = polygonOf('house', box(25, 15, 35, 22), { kind: 'building' });
    const { shape, storm, plan, result } = run(plane(), planOf([own(), building]));
    const below = cellsInside(shape.ground.grid, [box(27, 13, 33, 14)]);
    const fromBelow = contributingArea(shape, storm, plan, below, 'strip');
    const without = run(plane(), planOf([own()]));
    const open = contributingArea(without.shape, without.storm, without.plan, below, 'strip');
    expect(fromBelow.area_m2).toBeLessThan(open.area_m2 / 2);
    // The house sheds its rain along its eaves, since no downspout is drawn: nothing is lost.
    expect(result.ledger?.rain_m3).toBeCloseTo(400 * 0.04, 1);
    expect(Math.abs(result.ledger?.error_m3 ?? 1)).toBeLessThan(1e-9);
  });
});

describe('roof water', () => {
  const house = (): PlanFeature[] => [
    polygonOf('house', box(25, 15, 35, 22), { kind: 'building' }),
    polygonOf('roof', box(24.5, 14.5, 35.5, 22.5), { kind: 'roof', building: 'house' }),
  ];
  const roofM2 = 11 * 8;

  it('enters the ground at the outlets, by the shares given', () => {
    const plan = planOf([
      own(),
      ...house(),
      pointOf('a', [24.6, 14.6], { kind: 'downspout', roof: 'roof', share: 0.75 }),
      pointOf('b', [35.4, 14.6], {
        kind: 'downspout',
        roof: 'roof',
        share: 0.25,
        outlet: 'storm-sewer',
      }),
    ]);
    const { result, storm } = run(plane(), plan);
    const runOffM = runOffMm(40, 98) / 1000;
    expect(result.ledger?.sewer_m3).toBeCloseTo(0.25 * roofM2 * runOffM, 5);
    expect(storm.roofs.outlets.map((outlet) => outlet.areaM2)).toEqual([
      expect.closeTo(0.75 * roofM2, 4),
      expect.closeTo(0.25 * roofM2, 4),
    ]);
    expect(Math.abs(result.ledger?.error_m3 ?? 1)).toBeLessThan(1e-9);
  });

  it('is shared by the nearest eave where no share is given', () => {
    const plan = planOf([
      own(),
      ...house(),
      pointOf('west', [24.5, 18.5], { kind: 'downspout', roof: 'roof' }),
      pointOf('east', [35.5, 18.5], { kind: 'downspout', roof: 'roof' }),
    ]);
    const { storm } = run(plane(), plan);
    for (const { areaM2 } of storm.roofs.outlets) expect(areaM2).toBeCloseTo(roofM2 / 2, 1);
  });

  it('balances when an outlet lies on a neighbour', () => {
    const plan = planOf([
      own(),
      uphill(),
      ...house(),
      pointOf('a', [24.6, 14.6], {
        kind: 'downspout',
        roof: 'roof',
        outlet: frame.toLngLat([30, 45]),
      }),
    ]);
    expect(Math.abs(run(plane(), plan).result.ledger?.error_m3 ?? 1)).toBeLessThan(1e-9);
  });
});

describe('a low spot on the lot', () => {
  /** A cone-shaped dent, 3 m across at the top of it, 0.3 m below the plane at its middle. */
  const dent = (x: number, y: number) => Math.max(0, 0.3 * (1 - Math.hypot(x - 30, y - 20) / 3));

  it('holds water, and is told with its outline, its depth and where it spills', () => {
    const { result } = run(plane(dent), planOf([own(), uphill()]));
    expect(result.low_spots).toHaveLength(1);
    const [spot] = result.low_spots;
    expect(spot.lot).toBe('own');
    expect(spot.outline.coordinates).toHaveLength(1);
    const [deepest] = [frame.toLocal(spot.deepest)];
    expect(Math.hypot(deepest[0] - 30, deepest[1] - 20)).toBeLessThan(1);
    expect(frame.toLocal(spot.spill)[1]).toBeLessThan(20);
    expect(result.standing[0].spills).toBe(true);
    expect(result.standing[0].volume_m3).toBeCloseTo(spot.volume_m3, 6);
    expect(result.ledger?.standing_m3).toBeCloseTo(spot.volume_m3, 6);
    const [row] = result.standing;
    expect(row.inflow_m3).toBeCloseTo(row.volume_m3 + row.spilled_m3, 9);
    expect(row.spilled_m3).toBeGreaterThan(0);
    expect([row.spills_to, row.basin]).toEqual([null, null]);
  });

  it('keeps from the ground below it what it holds back in a small storm', () => {
    const small = run(plane(dent), planOf([own(), uphill()]), 18);
    const cells = cellsInside(small.shape.ground.grid, [box(20, 10, 40, 14)]);
    const answer = contributingArea(small.shape, small.storm, small.plan, cells, 'foot');
    expect(answer.storm_area_m2).toBeLessThan(answer.area_m2);
    expect(answer.storm_area_m2).toBeGreaterThan(0);
  });

  it('answers for the whole pool where a point in it is asked about', () => {
    const { shape, storm, plan } = run(plane(dent), planOf([own(), uphill()]));
    const wet = probePoint(shape, storm, plan, frame.toLngLat([30, 20]));
    const dry = probePoint(shape, storm, plan, frame.toLngLat([23, 20]));
    expect(wet?.inPool).toBe(true);
    expect(dry?.inPool).toBe(false);
    expect(wet?.contributing.area_m2).toBeGreaterThan(dry?.contributing.area_m2 ?? NaN);
    const ends = frame.toLocal(dry?.path.at(-1) ?? [0, 0]);
    expect(ends[1]).toBeLessThan(1);
  });

  it('says of what drains to it that it is cut by the edge of the data', () => {
    const { result } = run(plane(dent), planOf([own(), uphill()]));
    expect(result.contributing.every((row) => row.cut_by_edge)).toBe(true);
  });

  it('may not exist when it is shallower than the error of the heights', () => {
    const { shape, storm, plan } = run(plane(dent), planOf([own()]));
    const doubt = (rmseM: number) =>
      drainLot(shape, storm, plan, { crs: 'test', rmseM }).low_spots[0].doubtful;
    expect(doubt(0.02)).toBe(false);
    expect(doubt(0.3)).toBe(true);
  });
});

describe('what drains to a place', () => {
  it('is split by lot through the overlay of its outline, to the area of the whole', () => {
    const { shape, storm, plan } = run(plane(), planOf([own(), uphill()]));
    const cells = cellsInside(shape.ground.grid, [box(20, 10, 40, 12)]);
    const answer = contributingArea(shape, storm, plan, cells, 'strip');
    const byLot = Object.fromEntries(answer.by_lot.map((row) => [row.lot ?? 'rest', row.area_m2]));
    // A strip 20 m wide and 50 m long, 18 + 2 m of it on the own lot, 20 m on the uphill one, 10 m above.
    expect(byLot['own']).toBeGreaterThan(350);
    expect(byLot['own']).toBeLessThanOrEqual(400.001);
    expect(byLot['uphill']).toBeGreaterThan(330);
    expect(answer.by_source.reduce((sum, row) => sum + row.area_m2, 0)).toBeCloseTo(
      answer.area_m2,
      6,
    );
    expect(answer.area_m2).toBeGreaterThan(900);
    expect(answer.area_m2).toBeLessThan(1100);
  });
});
