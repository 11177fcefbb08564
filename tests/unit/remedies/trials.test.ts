import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stormUptake } from '../../../lib/basin/design/storm-uptake';
import { basinAsBuilt } from '../../../lib/basin/form/as-built';
import { ledger } from '../../../lib/drainage/answer/ledger';
import { withUptake } from '../../../lib/drainage/storm/basin-uptake';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { PlanFeature } from '../../../lib/plan/schema';
import { toLocal } from '../../../lib/plan/local-plan';
import { KeptBasins } from '../../../lib/remedies/kept-basins';
import { eventOf, Trials } from '../../../lib/remedies/trials';
import { box, frame, lineOf, planOf, polygonOf } from '../ground/plane-lot';
import { surveyOf, wetLot } from './wet-lot';

const garden = polygonOf('garden', box(33, 12, 38, 17), { kind: 'basin', ponding_depth_m: 0.15 });
const survey = surveyOf([...wetLot, garden]);
const { elevation, plan } = survey;
const main = eventOf(plan.plan.lotfall);

/** The plan with more earth moved. */
function withMore(...features: readonly PlanFeature[]) {
  return toLocal({ ...plan.plan, features: [...plan.plan.features, ...features] }, frame);
}

const swale = (id: string, fromX: number, fromY: number, toX: number, toY: number) =>
  lineOf(
    id,
    [
      [fromX, fromY],
      [toX, toY],
    ],
    { kind: 'swale', width_m: 0.9, depth_m: 0.15 },
  );

/** Swales anywhere west of the garden or beside it. */
const swales = fc.array(
  fc
    .tuple(
      fc.double({ min: 12, max: 36, noNaN: true }),
      fc.double({ min: 5, max: 27, noNaN: true }),
      fc.double({ min: 12, max: 36, noNaN: true }),
      fc.double({ min: 5, max: 27, noNaN: true }),
    )
    .filter(([ax, ay, bx, by]) => Math.hypot(bx - ax, by - ay) > 1),
  { minLength: 1, maxLength: 2 },
);

describe('a trial', () => {
  it('gives what the same plan gives from scratch, basins kept from other trials or not', () => {
    const trials = new Trials(elevation.grid, plan);
    fc.assert(
      fc.property(swales, (lines) => {
        const local = withMore(...lines.map((line, i) => swale(`swale-${i}`, ...line)));
        const [{ ledger: own, standingM3 }] = trials.full(local, [main]).outcomes;
        const bare = shapeGround(elevation.grid, local);
        const before = stormOnGround(bare, local, main.rainMm);
        const built = basinAsBuilt(elevation.grid, local, 'garden');
        const uptake = stormUptake(
          { elevation: elevation.grid, plan: local, shape: bare, storm: before },
          'notDug' in built ? [] : [built],
        );
        const shape = withUptake(bare, uptake, 1);
        const storm = stormOnGround(shape, local, main.rainMm);
        const scratch = ledger(shape, storm, local, trials.ownLot);
        for (const figure of ['run_on_m3', 'passed_on_m3', 'basin_m3', 'standing_m3'] as const) {
          expect(own?.[figure]).toBeCloseTo(scratch[figure], 9);
        }
        const { cells } = shape.ground.lots[0];
        const standing = cells.reduce((sum, cell) => sum + storm.depthM[cell], 0) * shape.cellM2;
        expect(standingM3[0]).toBeCloseTo(standing, 9);
      }),
      { numRuns: 4, seed: 11 },
    );
  });

  it('of walls alone has to the bit what the whole one has there, where no basin takes water in', () => {
    const dry = surveyOf(wetLot);
    const trials = new Trials(dry.elevation.grid, dry.plan);
    for (const line of [swale('one', 17.5, 16, 30, 24), swale('two', 15, 10, 17.5, 26)]) {
      const local = toLocal(
        { ...dry.plan.plan, features: [...dry.plan.plan.features, line] },
        frame,
      );
      const walls = trials.walls(local, [main]).outcomes[0];
      const whole = trials.full(local, [main]).outcomes[0];
      expect(walls.near).toStrictEqual(whole.near);
      expect(walls.standingM3).toStrictEqual(whole.standingM3);
    }
  });
});

describe('a basin that is kept', () => {
  const kept = new KeptBasins(elevation.grid);
  const [built] = kept.of(plan);

  it('is the same one where earth is moved far from it', () => {
    expect(kept.of(withMore(swale('far', 14, 8, 18, 24)))[0]).toBe(built);
  });

  it('is worked out anew where earth is moved at it, and is what it would be from scratch', () => {
    const near = withMore(swale('near', 30, 14, 36, 14));
    const [anew] = kept.of(near);
    expect(anew).not.toBe(built);
    const scratch = basinAsBuilt(elevation.grid, near, 'garden');
    expect('notDug' in scratch ? null : scratch.storage).toEqual(anew.storage);
    expect(kept.of(plan)[0]).toBe(built);
  });

  it('is another where it is drawn otherwise', () => {
    const deeper = polygonOf('garden', box(33, 12, 38, 17), {
      kind: 'basin',
      ponding_depth_m: 0.2,
    });
    expect(kept.of(planOf([...wetLot, deeper], plan.plan.lotfall))[0]).not.toBe(built);
  });
});
