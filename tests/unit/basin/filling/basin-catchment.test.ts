import { describe, expect, it } from 'vitest';
import { basinCatchment, type BasinCatchment } from '../../../../lib/basin/filling/basin-catchment';
import { eventInflow } from '../../../../lib/basin/filling/inflow';
import { contributingArea } from '../../../../lib/drainage/answer/contributing-area';
import { shapeGround } from '../../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../../lib/drainage/storm/storm-on-ground';
import { shallowFlowMPerS, sheetFlowS, sheetRoughness } from '../../../../lib/storm/travel-time';
import { footM } from '../../../../lib/units/units';
import type { PlanFeature } from '../../../../lib/plan/schema';
import { runOffMm } from '../../../../lib/storm/run-off';
import { waterEvent } from '../../../../lib/storm/water-event';
import { box, groundOf, planOf, pointOf, polygonOf } from '../../ground/plane-lot';

const rainMm = 60;
const settings = { storm: { rain_mm: rainMm, duration_h: 6, pattern: 'uniform' as const } };

/** A plane that falls 4 % to the south with a basin of 8 m by 4 m in it. */
function lot(
  features: readonly PlanFeature[] = [],
  dent: (x: number, y: number) => number = () => 0,
) {
  const basin = polygonOf('basin', box(26, 10, 34, 14), {
    kind: 'basin',
    ponding_depth_m: 0.15,
  });
  const own = polygonOf('own', box(5, 2, 55, 58), { kind: 'lot', own: true });
  const plan = planOf([own, ...features, basin], settings);
  const elevation = groundOf(60, 60, 0.5, (x, y) => 5 + 0.04 * y - dent(x, y));
  const shape = shapeGround(elevation, plan);
  const storm = stormOnGround(shape, plan, rainMm);
  const [form, ...others] = shape.ground.basins;
  const catchment = basinCatchment(shape, storm, form, others, 80);
  const event = waterEvent(plan.plan.lotfall);
  return { plan, shape, storm, form, catchment, event, inflow: eventInflow(catchment, event) };
}

function sum(values: Iterable<number>): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}

/** Mean time at which water comes, seconds. */
function meanS({ runOnM3, stepS }: { runOnM3: Float64Array; stepS: number }): number {
  return sum(runOnM3.map((each, i) => each * (i + 0.5) * stepS)) / sum(runOnM3);
}

const lawnM = runOffMm(rainMm, 74) / 1000;

describe('what drains to a basin', () => {
  it('is what the drainage says does, less the basin itself', () => {
    const { shape, storm, plan, form, catchment } = lot();
    const whole = contributingArea(shape, storm, plan, form.cells, 'basin');
    const own = form.cells.length * shape.cellM2;
    expect(catchment.areaM2).toBeCloseTo(whole.area_m2 - own, 1);
    expect(catchment.areaM2).toBeGreaterThan(300);
    const [lawn, ...others] = catchment.areasByClass;
    expect(lawn).toBeCloseTo(catchment.groundM2, 9);
    expect(Math.max(...others)).toBe(0);
    expect(catchment.cutByEdge).toBe(true);
  });

  it('takes as long as TR-55 has it for a sheet over the mean of the way', () => {
    const { catchment } = lot();
    // up the slope to the top of the ground: 0 to 45.5 m, a little more for what comes around the berm
    expect(catchment.meanLengthM).toBeGreaterThan(20);
    expect(catchment.meanLengthM).toBeLessThan(26);
    const sheetS = sheetFlowS({
      lengthM: catchment.meanLengthM,
      slope: 0.04,
      roughness: 0.24,
      rain2yMm: 80,
    });
    expect(catchment.meanTravelS / sheetS).toBeGreaterThan(0.8);
    expect(catchment.meanTravelS / sheetS).toBeLessThan(1.1);
  });

  it('gives the hydrograph exactly the volume that runs off', () => {
    const { catchment, inflow } = lot();
    expect(sum(inflow.runOnM3)).toBeCloseTo(catchment.groundM2 * lawnM, 9);
    expect(inflow.fromGroundM3).toBeCloseTo(catchment.groundM2 * lawnM, 9);
    expect(inflow.inLowSpotsM3).toBeCloseTo(0, 9);
    expect(sum(inflow.rainMm)).toBeCloseTo(rainMm, 9);
  });

  it('late by the mean time on the way, whatever the step', () => {
    const { catchment, plan, event } = lot();
    const runOff = event.runOff(catchment.groups[0].parts[0].surface).series;
    const atOnce = meanS({ runOnM3: runOff.depthsMm, stepS: runOff.stepS });
    for (const stepS of [60, 360, 900]) {
      const late = eventInflow(catchment, waterEvent(plan.plan.lotfall, { stepS }));
      expect(Math.abs(meanS(late) - atOnce - catchment.meanTravelS)).toBeLessThan(60);
      expect(sum(late.runOnM3)).toBeCloseTo(catchment.groundM2 * lawnM, 9);
    }
  });

  it('runs in a sheet for 100 ft and in runnels beyond, the farthest longest', () => {
    const { catchment } = lot();
    const travelS = (lengthM: number): number => {
      const sheetLengthM = Math.min(lengthM, 100 * footM);
      const sheetS = sheetFlowS({
        lengthM: sheetLengthM,
        slope: 0.04,
        roughness: sheetRoughness['dense grass'],
        rain2yMm: 80,
      });
      return sheetS + (lengthM - sheetLengthM) / shallowFlowMPerS(0.04, false);
    };
    // from the upper line at y = 14 up the plane to its end at 60
    const lengths = Array.from({ length: 92 }, (_, i) => (i + 0.5) / 2);
    const meanS = sum(lengths.map(travelS)) / lengths.length;
    // but for the bank's own ground, which lies nearest and is steeper or flatter
    expect(catchment.meanTravelS / meanS).toBeGreaterThan(0.96);
    expect(catchment.meanTravelS / meanS).toBeLessThan(1.01);
    // told by the minute
    expect(catchment.longestTravelS - travelS(46)).toBeGreaterThan(-30);
    expect(catchment.longestTravelS - travelS(46)).toBeLessThan(60);
  });

  it('has a roof’s water at its outlet, after what its barrel holds', () => {
    const roof = polygonOf('roof', box(26, 40, 34, 46), { kind: 'roof' });
    const spout = (properties: object): PlanFeature =>
      pointOf('spout', [30, 20], { kind: 'downspout', roof: 'roof', ...properties });
    const roofM3 = 48 * (runOffMm(rainMm, 98) / 1000);
    const free = lot([roof, spout({})]);
    expect(free.catchment.roofs).toEqual([
      {
        id: 'spout',
        areaM2: expect.closeTo(48, 1) as number,
        distanceM: expect.any(Number) as number,
        travelS: expect.any(Number) as number,
      },
    ]);
    // from the middle of the outlet's cell to the upper line
    expect(Math.abs(free.catchment.roofs[0].distanceM - 6.25)).toBeLessThan(0.5);
    // in a runnel down 4 %, and some of it along the flat foot of the bank
    const inRunnelS = free.catchment.roofs[0].distanceM / shallowFlowMPerS(0.04, false);
    expect(free.catchment.roofs[0].travelS).toBeGreaterThan(0.99 * inRunnelS);
    expect(free.catchment.roofs[0].travelS).toBeLessThan(1.2 * inRunnelS);
    expect(free.catchment.longestTravelS).toBeGreaterThan(free.catchment.meanTravelS);
    expect(free.inflow.fromRoofsM3).toBeCloseTo(roofM3, 2);
    const kept = lot([roof, spout({ barrel_m3: 0.5 })]);
    expect(kept.inflow.inBarrelsM3).toBeCloseTo(0.5, 2);
    expect(kept.inflow.fromRoofsM3).toBeCloseTo(roofM3 - 0.5, 2);
    // the barrel takes the beginning
    expect(meanS(kept.inflow)).toBeGreaterThan(meanS(free.inflow));
    const away = lot([roof, spout({ outlet: 'storm-sewer' })]);
    expect(away.catchment.roofs).toEqual([]);
  });

  it('loses what a low spot above holds back, from its beginning', () => {
    const hollow = (x: number, y: number): number =>
      Math.max(0, 0.3 - 0.12 * Math.hypot(x - 30, y - 24));
    const { catchment, inflow, storm, shape } = lot([], hollow);
    const stored = [...storm.stormPools.stored].map((depth) => depth * shape.cellM2);
    const held = Math.max(...stored.filter((volumeM3) => volumeM3 < 1));
    expect(held).toBeGreaterThan(0.1);
    expect(inflow.inLowSpotsM3).toBeGreaterThan(0.6 * held);
    expect(inflow.inLowSpotsM3).toBeLessThanOrEqual(held * 1.01);
    expect(sum(inflow.runOnM3)).toBeCloseTo(catchment.groundM2 * lawnM - inflow.inLowSpotsM3, 9);
  });

  it('ends in the first of two basins', () => {
    const upper = polygonOf('upper', box(24, 24, 36, 28), {
      kind: 'basin',
      ponding_depth_m: 0.15,
    });
    const alone = lot().catchment.areaM2;
    const { shape, storm } = lot([upper]);
    const [first, second] = shape.ground.basins;
    const of = (form: typeof first, other: typeof first): BasinCatchment =>
      basinCatchment(shape, storm, form, [other], 80);
    const above = of(first, second);
    const below = of(second, first);
    expect(above.areaM2).toBeGreaterThan(300);
    expect(below.areaM2).toBeLessThan(alone * 0.55);
  });
});
