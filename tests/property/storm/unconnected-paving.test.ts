import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { SpreadingLot, SurfaceClass } from '../../../lib/storm/surface-class';
import { totalMm } from '../../../lib/storm/rain-series';
import { runOffMm } from '../../../lib/storm/run-off';
import { runOffLaw } from '../../../lib/storm/run-off-law';
import { spreadCredit } from '../../../lib/storm/unconnected-paving';
import { waterEvent } from '../../../lib/storm/water-event';
import { box, groundOf, planOf, polygonOf } from '../../unit/ground/plane-lot';

const within = { seed: 20_241, numRuns: 400 };
const bitsMm = 1e-9;

const open: fc.Arbitrary<SurfaceClass> = fc.record({
  cover: fc.constantFrom('lawn', 'bed', 'woods', 'meadow', 'gravel', 'deck', 'bare'),
  condition: fc.constantFrom('poor', 'fair', 'good'),
  group: fc.constantFrom('A', 'B', 'C', 'D'),
});
const areaM2 = fc.double({ min: 1, max: 2000, noNaN: true });
const antecedent = fc.constantFrom('dry', 'average', 'wet');
const rainMm = fc.double({ min: 0, max: 400, noNaN: true });
const share = fc.oneof(fc.constant(0), fc.double({ min: 0.001, max: 1, noNaN: true }));

/** Sealed up to half of the whole, so that lots on both sides of the limit come up. */
const lot: fc.Arbitrary<SpreadingLot> = fc
  .record({
    open: fc.array(fc.record({ surface: open, areaM2 }), { minLength: 1, maxLength: 4 }),
    sealedShare: fc.double({ min: 0.01, max: 0.5, noNaN: true }),
    unconnectedShare: share,
  })
  .map(({ open: parts, sealedShare, unconnectedShare }) => {
    const openM2 = parts.reduce((sum, part) => sum + part.areaM2, 0);
    const sealedM2 = (openM2 * sealedShare) / (1 - sealedShare);
    return { open: parts, sealedM2, unconnectedM2: sealedM2 * unconnectedShare };
  });

/** Credited in all, millimetres times square metres. */
const creditedL = (each: SpreadingLot, state: 'dry' | 'average' | 'wet', rain: number): number =>
  each.unconnectedM2 * spreadCredit(each, state, 98)(rain);

describe('the credit for unconnected paving', () => {
  it('is never below 0, and never more than what runs off the paving', () => {
    fc.assert(
      fc.property(lot, antecedent, rainMm, (each, state, rain) => {
        const credited = spreadCredit(each, state, 98)(rain);
        expect(credited).toBeGreaterThanOrEqual(0);
        expect(credited).toBeLessThanOrEqual(runOffMm(rain, 98));
      }),
      within,
    );
  });

  it('is all that runs off the paving at most, even of a flood on dry sand', () => {
    const meadow: SurfaceClass = { cover: 'meadow', condition: 'good', group: 'A' };
    const flooded: SpreadingLot = {
      open: [{ surface: meadow, areaM2: 5000 }],
      sealedM2: 5,
      unconnectedM2: 5,
    };
    expect(spreadCredit(flooded, 'dry', 98)(1500)).toBe(runOffMm(1500, 98));
  });

  it('grows with the unconnected part and with the rain', () => {
    fc.assert(
      fc.property(lot, antecedent, rainMm, share, share, (each, state, rain, a, b) => {
        const [less, more] = [Math.min(a, b), Math.max(a, b)];
        const of = (part: number): SpreadingLot => ({
          ...each,
          unconnectedM2: each.sealedM2 * part,
        });
        const scale = bitsMm * each.sealedM2;
        expect(creditedL(of(more), state, rain)).toBeGreaterThanOrEqual(
          creditedL(of(less), state, rain) - scale,
        );
        expect(creditedL(each, state, rain * more)).toBeGreaterThanOrEqual(
          creditedL(each, state, rain * less) - scale,
        );
      }),
      within,
    );
  });

  it('is in proportion to a lot that is larger in all its parts', () => {
    fc.assert(
      fc.property(
        lot,
        rainMm,
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (each, rain, times) => {
          const larger: SpreadingLot = {
            open: each.open.map((part) => ({ ...part, areaM2: part.areaM2 * times })),
            sealedM2: each.sealedM2 * times,
            unconnectedM2: each.unconnectedM2 * times,
          };
          const whole = creditedL(each, 'average', rain);
          expect(Math.abs(creditedL(larger, 'average', rain) / times - whole)).toBeLessThan(
            1e-6 * (1 + whole),
          );
        },
      ),
      within,
    );
  });

  it('is nothing where none is unconnected, and from 30 % sealed on', () => {
    fc.assert(
      fc.property(lot, antecedent, rainMm, (each, state, rain) => {
        expect(creditedL({ ...each, unconnectedM2: 0 }, state, rain)).toBe(0);
        const openM2 = each.open.reduce((sum, part) => sum + part.areaM2, 0);
        if (each.sealedM2 / (openM2 + each.sealedM2) >= 0.3) {
          expect(creditedL(each, state, rain)).toBe(0);
        }
      }),
      within,
    );
  });

  it('leaves run-off that grows with the rain and comes over time to its total', () => {
    fc.assert(
      fc.property(
        lot,
        fc.constantFrom('average', 'wet'),
        rainMm,
        share,
        fc.integer({ min: 60, max: 3600 }),
        (each, state, rain, part, stepS) => {
          const surface: SurfaceClass = {
            cover: 'paving',
            condition: 'good',
            group: 'C',
            spreadsOn: each,
          };
          const settings = {
            version: 1,
            storm: { rain_mm: rain, antecedent: state, pattern: 'nrcs-type-2' },
          } as const;
          const whole = runOffLaw(settings).runOffMm(surface);
          expect(whole).toBeGreaterThanOrEqual(
            runOffLaw(settings, rain * part).runOffMm(surface) - bitsMm,
          );
          const { totalMm: total, series } = waterEvent(settings, { stepS }).runOff(surface);
          expect(total).toBe(whole);
          expect(totalMm(series)).toBe(total);
          expect(series.depthsMm.every((depth) => depth >= 0)).toBe(true);
        },
      ),
      within,
    );
  });
});

describe('on the ground', () => {
  const elevation = groundOf(30, 30, 0.5, (_, y) => 3 + 0.03 * y);
  const own = polygonOf('own', box(5, 5, 25, 25), { kind: 'lot', own: true });
  const house = polygonOf('house', box(6, 14, 12, 20), { kind: 'building' });

  it('what is credited is soaked in and no longer passed on, and the ledger balances', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 20 }),
        fc.double({ min: 1, max: 150, noNaN: true }),
        fc.constantFrom('A', 'B', 'C', 'D'),
        (widthM, rain, group) => {
          const of = (unconnected: boolean) => {
            const drive = polygonOf('drive', box(14, 6, 14.5 + widthM / 2, 24), {
              kind: 'surface',
              cover: 'paving',
              unconnected,
            });
            const plan = planOf([own, house, drive], {
              soil: { group },
              storm: { rain_mm: rain },
            });
            const shape = shapeGround(elevation, plan);
            const storm = stormOnGround(shape, plan, rain);
            return drainLot(shape, storm, plan, { crs: 'test', rmseM: 0.05 });
          };
          const [plain, spreads] = [of(false), of(true)];
          const credited = spreads.run_off?.unconnected?.credited_m3 ?? NaN;
          expect(credited).toBeGreaterThanOrEqual(-1e-12);
          expect((spreads.ledger?.soaked_m3 ?? 0) - (plain.ledger?.soaked_m3 ?? 0)).toBeCloseTo(
            credited,
            9,
          );
          // Of what winds over the line either way a drop more or less may be told: the balance counts.
          const left = ({ ledger }: typeof plain) =>
            ledger === null ? NaN : ledger.passed_on_m3 + ledger.standing_m3 - ledger.run_on_m3;
          expect(left(plain) - left(spreads)).toBeCloseTo(credited, 9);
          expect(Math.abs(spreads.ledger?.error_m3 ?? 1)).toBeLessThan(1e-9);
        },
      ),
      { seed: 20_241, numRuns: 25 },
    );
  });
});
