import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { landM } from '../../../fixtures/demo/land';
import { basin, hollows, lots, raster } from '../../../fixtures/demo/scenario';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import type { DrainageResult } from '../../../lib/drainage/answer/drainage-result';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { surveyLot, type Survey } from '../../../lib/drainage/storm/survey-lot';
import { elevationAt } from '../../../lib/elevation/grid';
import { openElevation } from '../../../lib/elevation/file/open-elevation';
import type { LngLat, XY } from '../../../lib/frame/frame';
import { areaM2, contains } from '../../../lib/frame/shapes';
import { planArea } from '../../../lib/plan/plan-area';
import { readPlan } from '../../../lib/plan/read-plan';
import { writePlan } from '../../../lib/plan/write-plan';
import { checkSetbacks } from '../../../lib/setback/judge/check-setbacks';
import { ruleSetById } from '../../../lib/setback/sets/rule-sets';

const read = (name: string) =>
  readFileSync(new URL(`../../../fixtures/demo/${name}`, import.meta.url));

describe('the demo lot', () => {
  let survey: Survey;
  let drained: DrainageResult;
  let notes: readonly string[];

  beforeAll(async () => {
    const found = readPlan(read('lot.plan.geojson').toString(), 'lot.plan.geojson');
    ({ notes } = found);
    const blob = new Blob([read('lot.elevation.tif')]);
    const file = await openElevation({ name: 'lot.elevation.tif', blob });
    survey = await surveyLot(file, found.plan, { area: planArea(found.plan) ?? [0, 0, 0, 0] });
    const storm = stormOnGround(survey.shape, survey.plan, found.plan.lotfall.storm?.rain_mm ?? 0);
    drained = drainLot(survey.shape, storm, survey.plan, { crs: '', rmseM: 0.07 });
  });

  /** Metres east and north of the lot's corner, as the scenario has them. */
  function placeOf(at: LngLat): XY {
    const [corner] = survey.plan.of.lot[0].shape.rings[0];
    const [x, y] = survey.plan.frame.toLocal(at);
    return [x - corner[0], y - corner[1]];
  }

  function spotIn({ at, halfM }: { at: XY; halfM: XY }) {
    return drained.low_spots.find(({ deepest }) => {
      const [x, y] = placeOf(deepest);
      return Math.hypot((x - at[0]) / halfM[0], (y - at[1]) / halfM[1]) < 1;
    });
  }

  it('is a plan that is read without notes and is as it would be written', () => {
    expect(notes).toEqual([]);
    expect(writePlan(survey.plan.plan)).toBe(read('lot.plan.geojson').toString());
  });

  it('is land as the scenario shapes it', () => {
    const { grid } = survey.elevation;
    const [corner] = survey.plan.of.lot[0].shape.rings[0];
    const scale = grid.cellM / raster.cellM;
    let worst = 0;
    for (let i = 0; i < grid.z.length; i += 97) {
      const x = (grid.westM + ((i % grid.width) + 0.5) * grid.cellM - corner[0]) / scale;
      const y = (grid.northM - (Math.floor(i / grid.width) + 0.5) * grid.cellM - corner[1]) / scale;
      worst = Math.max(worst, Math.abs(elevationAt(grid, i) - landM(x, y)));
    }
    expect(worst).toBeLessThan(0.001);
  });

  it('has water at the uphill wall of the house after 40 mm', () => {
    const wall = spotIn(hollows.wall);
    expect(wall?.volume_m3).toBeGreaterThan(2);
    expect(wall?.depth_m).toBeGreaterThan(0.1);
    expect(drained.standing.find(({ id }) => id === wall?.id)?.spills).toBe(true);
    const house = drained.buildings.find(({ building }) => building === 'house');
    expect(house?.depth_m).toBeGreaterThan(0.1);
    expect(house?.wall_m).toBeGreaterThan(1);
  });

  it('has three more low places that look fit for a garden and are not', () => {
    for (const hollow of [hollows.septic, hollows.corner, hollows.electric]) {
      expect(spotIn(hollow)?.volume_m3).toBeGreaterThan(0.4);
    }
    // The two shallow ones may be nothing but error of the elevation.
    expect(spotIn(hollows.septic)?.doubtful).toBe(false);
    expect(spotIn(hollows.corner)?.doubtful).toBe(true);
  });

  it('gets run-on from the uphill lot and hands most of it to the downhill one', () => {
    expect(drained.ledger?.run_on_m3).toBeGreaterThan(10);
    expect(drained.ledger?.run_on_from[0].lot).toBe('lot-uphill');
    expect(drained.ledger?.passed_on_to[0].lot).toBe('lot-downhill');
    expect(Math.abs(drained.ledger?.error_m3 ?? NaN)).toBeLessThan(1e-6);
  });

  it('drains within the data: no catchment is cut by the edge', () => {
    expect(drained.contributing.map(({ cut_by_edge }) => cut_by_edge)).not.toContain(true);
  });

  it('has a basin of the usual size, inside the lot, that fills', () => {
    expect(areaM2([basin])).toBeGreaterThan(25);
    expect(areaM2([basin])).toBeLessThan(35);
    expect(basin.every((at) => contains([lots.own], at))).toBe(true);
    expect(drained.ledger?.basin_m3).toBeGreaterThan(3);
  });

  it('keeps every distance, and still cannot pass without a private locate', () => {
    const findings = checkSetbacks({
      plan: survey.plan,
      basins: survey.plan.of.basin.map(({ id, shape }) => ({ id, rim: shape.rings[0] })),
      ruleSet: ruleSetById('default'),
      elevation: survey.elevation.grid,
      today: '2026-11-25',
    });
    expect(findings.summary.fail).toBe(0);
    const open = findings.results.filter(({ result }) => result === 'check');
    expect(new Set(open.map(({ rule }) => rule))).toEqual(
      // Water in the ground, in the basin and on its way is not looked at here.
      new Set(['utility', 'water-table', 'wet-spot', 'drain-down', 'overflow']),
    );
  });
});
