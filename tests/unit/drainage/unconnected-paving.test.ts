import { describe, expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import type { DrainageResult } from '../../../lib/drainage/answer/drainage-result';
import { pondingAt, readyForRain } from '../../../lib/drainage/storm/ponding';
import { surfaceName } from '../../../lib/drainage/answer/run-off-words';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { PlanFeature, Settings } from '../../../lib/plan/schema';
import { antecedentCurveNumber } from '../../../lib/storm/antecedent';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { runOffMm } from '../../../lib/storm/run-off';
import { waterEvent } from '../../../lib/storm/water-event';
import { box, groundOf, planOf, polygonOf } from '../ground/plane-lot';

/** Two lots of 400 m2, one above the other on a plane; on the lower a house of 36 m2 and a drive of 40. */
const own = polygonOf('own', box(10, 5, 30, 25), { kind: 'lot', own: true });
const uphill = polygonOf('up', box(10, 25, 30, 45), { kind: 'lot', own: false, name: 'Up' });
const house = polygonOf('house', box(12, 12, 18, 18), { kind: 'building' });
const paving = (unconnected: boolean | undefined, at = box(20, 6, 25, 14), id = 'drive') =>
  polygonOf(id, at, { kind: 'surface', cover: 'paving', unconnected });
// a dent that fills, so that standing water is there as well
const elevation = groundOf(
  40,
  50,
  0.5,
  (x, y) => 3 + 0.04 * y - 0.5 * Math.exp(-((x - 24) ** 2 + (y - 20) ** 2) / 4),
);

function run(features: readonly PlanFeature[], settings: Partial<Settings> = {}): DrainageResult {
  const plan = planOf(features, { storm: { rain_mm: 60 }, ...settings });
  const shape = shapeGround(elevation, plan);
  const storm = stormOnGround(shape, plan, eventDepthMm(plan.plan.lotfall));
  return drainLot(shape, storm, plan, { crs: 'test', rmseM: 0.05 });
}

const soaked = ({ ledger }: DrainageResult): number => ledger?.soaked_m3 ?? NaN;
const noteOf = ({ notes }: DrainageResult): string =>
  notes.find((note) => note.includes('unconnected')) ?? '';

describe('paving whose water spreads over lawn', () => {
  /** As TR-55 has it, reckoned here by hand: 76 of 400 m2 sealed, 40 of them unconnected, lawn of 74 around. */
  const byHandM3 = (rainMm: number, openNumber = 74): number => {
    const connected = openNumber + (98 - openNumber) * 0.19;
    const spreading = openNumber + (98 - openNumber) * 0.19 * (1 - (0.5 * 40) / 76);
    return (400 * (runOffMm(rainMm, connected) - runOffMm(rainMm, spreading))) / 1000;
  };

  it('soaks in by the difference of two curve numbers for the whole lot, and the ledger balances', () => {
    const plain = run([own, house, paving(undefined)]);
    const spreads = run([own, house, paving(true)]);
    expect(byHandM3(60)).toBeGreaterThan(0.2);
    expect(soaked(spreads) - soaked(plain)).toBeCloseTo(byHandM3(60), 9);
    expect(spreads.run_off?.unconnected).toMatchObject({
      area_m2: expect.closeTo(40, 9) as number,
      sealed_fraction: expect.closeTo(0.19, 9) as number,
      unconnected_fraction: expect.closeTo(40 / 76, 9) as number,
      credited_m3: expect.closeTo(byHandM3(60), 9) as number,
    });
    expect(spreads.ledger?.rain_m3).toBe(plain.ledger?.rain_m3);
    for (const { ledger } of [plain, spreads]) {
      expect(Math.abs(ledger?.error_m3 ?? 1)).toBeLessThan(1e-9);
    }
    const gone = ({ ledger }: DrainageResult): number =>
      (ledger?.passed_on_m3 ?? NaN) + (ledger?.standing_m3 ?? NaN) - (ledger?.run_on_m3 ?? NaN);
    expect(gone(plain) - gone(spreads)).toBeCloseTo(byHandM3(60), 9);
  });

  it('stands in the table by itself, with its own curve number and less run-off', () => {
    const { run_off } = run([own, house, paving(true), paving(false, box(26, 6, 28, 8), 'path')]);
    const names = run_off?.surfaces.map(surfaceName);
    expect(names).toContain('paving, unconnected');
    expect(names).toContain('paving');
    const row = run_off?.surfaces.find(({ unconnected }) => unconnected);
    expect(row?.curve_number).toBe(98);
    expect(row?.run_off_mm).toBeLessThan(runOffMm(60, 98) - 1);
    // the average is set beside the run-off before the credit
    const apartM3 = (run_off?.run_off_m3 ?? 0) + (run_off?.unconnected?.credited_m3 ?? 0);
    const { lost_m3 = 0, run_off_m3 = 0 } = run_off?.averaged ?? {};
    expect(lost_m3 + run_off_m3).toBeCloseTo(apartM3, 9);
  });

  it('says what was credited, by which source and within which limit', () => {
    const note = noteOf(run([own, house, paving(true)]));
    expect(note).toMatch(/^Of the 2\.2 m³ that run off the unconnected paving of own \(40 m²\)/);
    expect(note).toMatch(/ 0\.55 m³ are credited/);
    expect(note).toMatch(/TR-55 \(figure 2-4 and appendix F\): 19 % of the lot .* 53 % of that/);
    expect(note).toMatch(/ends at 30 %/);
  });

  it('follows the state of the ground', () => {
    const settings = { storm: { rain_mm: 60, antecedent: 'dry' } } as const;
    const plain = run([own, house, paving(false)], settings);
    const spreads = run([own, house, paving(true)], settings);
    expect(soaked(spreads) - soaked(plain)).toBeCloseTo(
      byHandM3(60, antecedentCurveNumber(74, 'dry')),
      9,
    );
  });

  it('takes open ground of several kinds by its mean, in both numbers alike', () => {
    const gravel = polygonOf('gravel', box(20, 15, 26, 20), {
      kind: 'surface',
      cover: 'gravel',
    });
    const mean = (294 * 74 + 30 * 89) / 324;
    const plain = run([own, house, paving(false), gravel]);
    const spreads = run([own, house, paving(true), gravel]);
    expect(soaked(spreads) - soaked(plain)).toBeCloseTo(byHandM3(60, mean), 9);
  });

  it('is credited nothing from 30 % sealed on, and says why', () => {
    const yard = (unconnected: boolean): PlanFeature =>
      paving(unconnected, box(20, 6, 29, 16), 'yard');
    const plain = run([own, house, yard(false)]);
    const spreads = run([own, house, yard(true)]);
    expect(soaked(spreads)).toBeCloseTo(soaked(plain), 12);
    expect(spreads.run_off?.unconnected?.credited_m3).toBeCloseTo(0, 12);
    expect(noteOf(spreads)).toMatch(/^Nothing is credited .*32 % of the lot .* from 30 % on/);
  });

  it('is credited nothing in a thaw, and says why', () => {
    const thaw: Partial<Settings> = {
      event: 'thaw',
      thaw: { snow_water_mm: 80, days: [{ mean_c: 12 }], ground: 'wet' },
    };
    const spreads = run([own, house, paving(true)], thaw);
    expect(soaked(spreads)).toBeCloseTo(soaked(run([own, house, paving(false)], thaw)), 12);
    expect(noteOf(spreads)).toMatch(/^Nothing is credited .* do not hold in a thaw/);
  });

  it('is credited nothing in a rain that the lot as a whole keeps, and says why', () => {
    const small = { storm: { rain_mm: 8 } };
    const spreads = run([own, house, paving(true)], small);
    expect(soaked(spreads)).toBe(soaked(run([own, house, paving(false)], small)));
    expect(noteOf(spreads)).toMatch(/^Nothing is credited .* keeps all of 8(\.0)? mm/);
  });

  it('counts for paving only', () => {
    const gravel = polygonOf('gravel', box(20, 6, 25, 14), {
      kind: 'surface',
      cover: 'gravel',
      unconnected: true,
    });
    const { notes, run_off } = run([own, gravel]);
    expect(notes).toContain('gravel is marked unconnected, which counts for paving only.');
    expect(run_off?.unconnected).toBeNull();
  });

  it('is a matter of each lot by itself, and nothing on no lot', () => {
    const above = paving(true, box(20, 40, 25, 48), 'above');
    const features = (unconnected: boolean): PlanFeature[] => [
      own,
      uphill,
      paving(unconnected, box(20, 40, 25, 48), 'above'),
    ];
    const spreads = run(features(true));
    expect(spreads.run_off?.unconnected).toBeNull();
    expect(noteOf(spreads)).toMatch(/lies on no lot of the plan/);
    expect(spreads.notes.some((note) => /paving of Up \(25 m²\)/.test(note))).toBe(true);
    const runOn = ({ ledger }: DrainageResult): number => ledger?.run_on_m3 ?? NaN;
    expect(runOn(spreads)).toBeLessThan(runOn(run(features(false))));
    // without the lot it lies on there is nothing to reckon it by
    expect(runOn(run([own, above]))).toBeCloseTo(
      runOn(run([own, paving(false, box(20, 40, 25, 48), 'above')])),
      12,
    );
  });

  it('gives way to a surface that is drawn over it later', () => {
    const lawn = polygonOf('lawn', box(20, 6, 25, 10), { kind: 'surface', cover: 'lawn' });
    const { run_off } = run([own, house, paving(true), lawn]);
    expect(run_off?.unconnected?.area_m2).toBeCloseTo(20, 9);
  });

  it('stands the same however the storm is asked for', () => {
    const plan = planOf([own, house, paving(true)], { storm: { rain_mm: 60 } });
    const shape = shapeGround(elevation, plan);
    const whole = stormOnGround(shape, plan, 60);
    const quick = pondingAt(readyForRain(shape, plan), plan, 60);
    expect(Math.max(...whole.depthM)).toBeGreaterThan(0.1);
    quick.depthM.forEach((depth, cell) => {
      if (Math.abs(depth - whole.depthM[cell]) > 1e-6) throw new Error(`cell ${cell}: ${depth}`);
    });
    // and over time it comes to the same total
    const { classes, unconnected } = whole.surfaces;
    const { at } = unconnected[0];
    expect(waterEvent(plan.plan.lotfall).runOff(classes[at]).totalMm).toBeCloseTo(
      whole.classRunOffMm[at],
      12,
    );
  });
});
