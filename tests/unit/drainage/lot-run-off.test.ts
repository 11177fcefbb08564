import { describe, expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import type { LotRunOff } from '../../../lib/drainage/answer/lot-run-off';
import { averagingText, surfaceName } from '../../../lib/drainage/answer/run-off-words';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { PlanFeature, Settings } from '../../../lib/plan/schema';
import { antecedentCurveNumber } from '../../../lib/storm/antecedent';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { runOffMm } from '../../../lib/storm/run-off';
import { box, groundOf, planOf, polygonOf } from '../ground/plane-lot';

/** A lot of 400 m2 with a house of 64 and a drive of 36, on a plane of 40 m by 40 m. */
const lot = polygonOf('own', box(10, 10, 30, 30), { kind: 'lot', own: true });
const house = polygonOf('house', box(16, 16, 24, 24), { kind: 'building' });
const drive = (properties: object = {}): PlanFeature =>
  polygonOf('drive', box(11, 11, 17, 17), { kind: 'surface', cover: 'paving', ...properties });
const elevation = groundOf(40, 40, 0.5, (_, y) => 3 + 0.04 * y);

function run(features: readonly PlanFeature[], settings: Partial<Settings>) {
  const plan = planOf(features, settings);
  const shape = shapeGround(elevation, plan);
  const storm = stormOnGround(shape, plan, eventDepthMm(plan.plan.lotfall));
  const result = drainLot(shape, storm, plan, { crs: 'test', rmseM: 0.05 });
  if (result.run_off === null || result.ledger === null) throw new Error('the plan has its lot');
  return { runOff: result.run_off, ledger: result.ledger };
}

/** The areas of the rows, by cover. */
const areas = ({ surfaces }: LotRunOff) =>
  Object.fromEntries(surfaces.map((row) => [row.cover, row.area_m2]));

describe('run-off of a lot, surface by surface', () => {
  // the drive lies under the house in one corner
  const pavedM2 = 36 - 1;

  it('has open ground by its cells and roofs by their plan area', () => {
    const { runOff } = run([lot, house, drive()], { storm: { rain_mm: 40 } });
    expect(areas(runOff)).toEqual({
      lawn: expect.closeTo(400 - 64 - pavedM2, 6) as number,
      roof: expect.closeTo(64, 6) as number,
      paving: expect.closeTo(pavedM2, 6) as number,
    });
    expect(runOff.area_m2).toBeCloseTo(400, 6);
    expect(runOff.surfaces.map(surfaceName)).toEqual(['roofs', 'lawn, good, group C', 'paving']);
    expect(runOff.surfaces.map((row) => row.curve_number)).toEqual([98, 74, 98]);
    for (const row of runOff.surfaces) {
      expect(row.run_off_mm).toBeCloseTo(runOffMm(40, row.curve_number ?? NaN), 9);
      expect(row.run_off_m3).toBeCloseTo((row.area_m2 * row.run_off_mm) / 1000, 12);
    }
  });

  it('is the rain of the ledger less what soaks in, in a storm and in a thaw', () => {
    for (const settings of [
      { storm: { rain_mm: 40 } },
      { storm: { rain_mm: 40, antecedent: 'wet' } },
      { event: 'thaw', thaw: { snow_water_mm: 60, days: [{ mean_c: 9 }], ground: 'wet' } },
    ] satisfies Partial<Settings>[]) {
      const { runOff, ledger } = run([lot, house, drive()], settings);
      const sum = runOff.surfaces.reduce((all, row) => all + row.run_off_m3, 0);
      expect(runOff.run_off_m3).toBeCloseTo(sum, 12);
      expect(runOff.run_off_m3).toBeCloseTo(ledger.rain_m3 - ledger.soaked_m3, 9);
      expect(runOff.run_off_mm).toBeCloseTo((1000 * sum) / 400, 8);
      expect(runOff.run_off_m3).toBeGreaterThan(1);
    }
  });

  it('tells what one averaged curve number would lose', () => {
    const { runOff } = run([lot, house, drive()], { storm: { rain_mm: 25 } });
    const mean = (99 * 98 + 301 * 74) / 400;
    const averagedM3 = (400 * runOffMm(25, mean)) / 1000;
    expect(runOff.averaged?.curve_number).toBeCloseTo(mean, 8);
    expect(runOff.averaged?.run_off_m3).toBeCloseTo(averagedM3, 9);
    expect(runOff.averaged?.lost_m3).toBeCloseTo(runOff.run_off_m3 - averagedM3, 9);
    expect(runOff.averaged?.lost_fraction).toBeCloseTo(1 - averagedM3 / runOff.run_off_m3, 9);
    expect(averagingText(runOff, 'metric')).toMatch(
      /the mean 79\.9, would give 0\.79 m³ instead of 2\.1 m³: averaging would lose 1\.3 m³, 63 %\.$/,
    );
  });

  it('uses the numbers of wet ground, and says of a single surface that averaging changes nothing', () => {
    const { runOff } = run([lot], { storm: { rain_mm: 40, antecedent: 'wet' } });
    expect(runOff.surfaces[0].curve_number).toBe(antecedentCurveNumber(74, 'wet'));
    expect(runOff.averaged?.lost_m3).toBeCloseTo(0, 12);
    expect(averagingText(runOff, 'metric')).toMatch(/: as good as the same\.$/);
  });

  it('says so when averaging gives more, as it may in very large rains', () => {
    const { runOff } = run([lot, house], { storm: { rain_mm: 400 } });
    expect(runOff.averaged?.lost_m3).toBeLessThan(0);
    expect(averagingText(runOff, 'metric')).toMatch(/averaging would add \d/);
  });

  it('has neither curve numbers nor an average in a thaw', () => {
    const { runOff } = run([lot, house, drive({ unconnected: true })], {
      event: 'thaw',
      thaw: { snow_water_mm: 60, days: [{ mean_c: 9 }], ground: 'thawed' },
    });
    expect(runOff.kind).toBe('thaw');
    expect(runOff.surfaces.every((row) => row.curve_number === null)).toBe(true);
    expect(runOff.averaged).toBeNull();
    expect(averagingText(runOff, 'metric')).toBeNull();
    expect(runOff.unconnected?.credited_m3).toBe(0);
  });

  it('names a condition only where it counts', () => {
    const deck = polygonOf('deck', box(25, 25, 28, 28), { kind: 'surface', cover: 'deck' });
    const { runOff } = run([lot, deck], { storm: { rain_mm: 40 } });
    expect(runOff.surfaces.map(surfaceName)).toEqual(['lawn, good, group C', 'deck, group C']);
  });

  it('is null without a lot of one’s own', () => {
    const plan = planOf([house]);
    const shape = shapeGround(elevation, plan);
    const result = drainLot(shape, stormOnGround(shape, plan, 20), plan, { crs: 'test' });
    expect(result.run_off).toBeNull();
  });
});
