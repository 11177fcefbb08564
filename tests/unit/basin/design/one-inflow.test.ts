import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { designBasins } from '../../../../lib/basin/design/design-basins';
import { isDesigned } from '../../../../lib/basin/design/design-result';
import { uptakeOf } from '../../../../lib/basin/design/for-drainage';
import { withUptake } from '../../../../lib/drainage/storm/basin-uptake';
import { drainLot } from '../../../../lib/drainage/answer/drain-lot';
import { shapeGround } from '../../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../../lib/drainage/storm/storm-on-ground';
import { surveyLot, type Survey } from '../../../../lib/drainage/storm/survey-lot';
import { openElevation } from '../../../../lib/elevation/file/open-elevation';
import type { Grid } from '../../../../lib/elevation/grid';
import { makeFrame } from '../../../../lib/frame/frame';
import { toLocal, type LocalPlan } from '../../../../lib/plan/local-plan';
import { planArea } from '../../../../lib/plan/plan-area';
import { readPlan } from '../../../../lib/plan/read-plan';
import type { Plan } from '../../../../lib/plan/schema';
import { lotCatchments } from '../../../../lib/siting/water/lot-catchments';
import { eventDuration } from '../../../../lib/storm/event-duration';
import { box, groundOf, planOf, polygonOf } from '../../ground/plane-lot';

/** A plan with another depth of rain. */
function raining(plan: Plan, rain_mm: number): Plan {
  return { ...plan, lotfall: { ...plan.lotfall, storm: { ...plan.lotfall.storm, rain_mm } } };
}

/** What comes to the first basin and what leaves it, as the design and as the drainage has it, m3. */
function bothWays(elevation: Grid, plan: LocalPlan, rainMm: number) {
  const shape = shapeGround(elevation, plan);
  const storm = stormOnGround(shape, plan, rainMm);
  const designed = designBasins({ elevation, plan, shape, storm });
  const basin = designed.basins.find(isDesigned);
  if (basin === undefined) throw new Error('the basin cannot be dug');
  const taking = withUptake(shape, uptakeOf(designed), eventDuration(plan.plan.lotfall).hours);
  const drained = drainLot(taking, stormOnGround(taking, plan, rainMm), plan, { crs: 'demo' });
  const row = drained.standing.find(({ basin: id }) => id === basin.id);
  const soaked = drained.ledger?.basin_soaked_m3 ?? 0;
  return {
    basin,
    // what soaks in at once stands nowhere: then the ledger alone has it
    inflowM3: row === undefined ? soaked : row.inflow_m3,
    spilledM3: row?.spilled_m3 ?? 0,
    heldM3: drained.ledger?.basin_m3 ?? NaN,
    cellsHoldM3: drained.basins[0].cells_hold_m3,
    shape,
    storm,
  };
}

describe('the demo basin', () => {
  let survey: Survey;
  let plan: Plan;
  beforeAll(async () => {
    ({ plan } = readPlan(readFileSync('fixtures/demo/lot.plan.geojson', 'utf8'), 'demo'));
    const file = await openElevation({ name: 'demo', path: 'fixtures/demo/lot.elevation.tif' });
    survey = await surveyLot(file, plan, { area: planArea(plan) ?? [0, 0, 0, 0] });
  });

  it.each([25, 40, 60, 120])(
    'gets and lets on the same in design, drainage and search at %d mm',
    (rainMm) => {
      const { grid } = survey.elevation;
      const local = toLocal(raining(plan, rainMm), makeFrame(grid.frame));
      const both = bothWays(grid, local, rainMm);
      const { basin, inflowM3, spilledM3, shape } = both;
      const { inflow_m3, overflow_m3, captured_m3 } = basin.storm;
      expect(Math.abs(inflowM3 - inflow_m3)).toBeLessThan(0.02 * inflow_m3);
      expect(Math.abs(spilledM3 - overflow_m3)).toBeLessThan(0.02 * inflow_m3);

      const roundedM3 = Math.abs(basin.basin.storage_m3 - both.cellsHoldM3);
      expect(Math.abs(both.heldM3 - captured_m3)).toBeLessThan(roundedM3 + 0.005 * inflow_m3);

      const features = local.plan.features.filter(({ properties }) => properties.kind !== 'basin');
      const bare = toLocal({ ...local.plan, features }, makeFrame(grid.frame));
      const bareShape = shapeGround(grid, bare);
      const bareStorm = stormOnGround(bareShape, bare, rainMm);
      const catchments = lotCatchments(bareShape, bareStorm, bare);
      const [form] = shape.ground.basins;
      const caught = catchments.catchAt(form.cells);
      const roofsM3 = catchments.roofs.reduce(
        (sum, { areaM2 }, i) => sum + areaM2 * caught.roofShares[i] * bareStorm.roofRunOffM,
        0,
      );
      // the lawn that the basin takes the place of gives less than the rain that falls into the basin
      const onItself = form.cells.reduce(
        (sum, cell) => sum + rainMm - bareStorm.classRunOffMm[bareStorm.surfaces.classOf[cell]],
        0,
      );
      const wholeM3 = caught.runOffM3 + roofsM3 + (onItself / 1000) * bareShape.cellM2;
      expect(Math.abs(wholeM3 - inflow_m3)).toBeLessThan(0.02 * inflow_m3);
    },
  );
});

describe('a basin drawn over a hollow', () => {
  it('has no water of its own deducted as a low spot on the way', () => {
    const hollow = (x: number, y: number): number =>
      0.2 * Math.max(0, 1 - Math.hypot(x - 30, y - 14) / 6);
    const elevation = groundOf(60, 60, 0.5, (x, y) => 5 + 0.04 * y - hollow(x, y));
    const own = polygonOf('own', box(5, 2, 55, 58), { kind: 'lot', own: true });
    for (const [x, y] of [
      [28, 12],
      [30, 14],
      [31, 16],
    ]) {
      const basin = polygonOf('basin', box(x - 3, y - 2, x + 3, y + 2), {
        kind: 'basin',
        ponding_depth_m: 0.15,
      });
      const plan = planOf([own, basin], {
        storm: { rain_mm: 60, duration_h: 6, pattern: 'uniform' },
      });
      const { basin: designed, inflowM3 } = bothWays(elevation, plan, 60);
      expect(Math.abs(inflowM3 - designed.storm.inflow_m3)).toBeLessThan(
        0.02 * designed.storm.inflow_m3,
      );
    }
  });
});
