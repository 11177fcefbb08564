import { describe, expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { figureKey, stateFigures, type StateFigure } from '../../../lib/drainage/answer/two-states';
import {
  differenceDoubtSteps,
  type DifferenceStudy,
} from '../../../lib/drainage/certainty/difference-doubt';
import { errorsOf } from '../../../lib/drainage/height-error/error-defaults';
import { atOnce } from '../../../lib/drainage/steps';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { hasTwoStates, planIn } from '../../../lib/plan/plan-state';
import { toLocal } from '../../../lib/plan/local-plan';
import type { Plan, PlanFeature } from '../../../lib/plan/schema';
import { box, frame, groundOf, lineOf, planOf, polygonOf } from '../ground/plane-lot';

/** 40 m by 40 m falling 4 % to the south, with a dent of 30 cm at the north wall of the house. */
const elevation = groundOf(40, 40, 0.5, (x, y) => {
  const away = Math.hypot(x - 20, y - 18);
  return 3 + 0.04 * y - (away < 3 ? 0.3 : 0);
});
const rainMm = 40;
const standing: PlanFeature[] = [
  polygonOf('own', box(10, 5, 30, 25), { kind: 'lot', own: true }),
  polygonOf('uphill', box(10, 25, 30, 38), { kind: 'lot', own: false, name: 'Uphill' }),
  polygonOf('house', box(17, 10, 23, 16), { kind: 'building', name: 'House' }),
];
const wall = lineOf(
  'wall',
  [
    [8, 25],
    [32, 25],
  ],
  { kind: 'wall', height_m: 0.6, state: 'proposed' },
);
const shed = polygonOf('shed', box(12, 20, 15, 23), { kind: 'building', state: 'gone' });

function drained(plan: Plan) {
  const local = toLocal(plan, frame);
  const shape = shapeGround(elevation, local);
  return drainLot(shape, stormOnGround(shape, local, rainMm), local, { crs: 'test' });
}

const fromUphill = ({ about, id, to }: StateFigure): boolean =>
  about === 'exchange' && id === 'uphill' && to === 'own';

function figures({ plan }: { readonly plan: Plan }) {
  return stateFigures(drained(planIn(plan, 'existing')), drained(planIn(plan, 'proposed')));
}

function doubts({ plan }: { readonly plan: Plan }, more: Partial<DifferenceStudy> = {}) {
  const state = (which: 'existing' | 'proposed') => ({
    elevation,
    plan: toLocal(planIn(plan, which), frame),
    uptakeM3: new Map<string, number>(),
  });
  const errors = errorsOf(elevation.cellM, { rmseM: 0.05 });
  const study = { rainMm, errors, seed: 1, surfaces: 20, ...more };
  return atOnce(
    differenceDoubtSteps({ before: state('existing'), after: state('proposed'), ...study }),
  );
}

describe('two states of a plan', () => {
  it('are told apart by what is to come or to go alone', () => {
    expect(hasTwoStates(planOf(standing).plan)).toBe(false);
    expect(hasTwoStates(planOf([...standing, wall]).plan)).toBe(true);
    expect(hasTwoStates(planOf([...standing, shed]).plan)).toBe(true);
  });

  it('give the figures of both answers side by side, and the balance of each', () => {
    const found = figures(planOf([...standing, wall]));
    const sent = found.find(fromUphill);
    expect(sent?.before).toBeGreaterThan(0);
    expect(sent?.after).toBeLessThan(0.3 * (sent?.before ?? 0));
    const atWall = found.find(({ about }) => about === 'at-wall');
    expect(atWall).toMatchObject({ id: 'house', unit: 'm' });
    // What the lot gets less is what ends less on it.
    const sum = (of: (figure: (typeof found)[number]) => number, ...abouts: string[]): number =>
      found.filter(({ about }) => abouts.includes(about)).reduce((all, each) => all + of(each), 0);
    const change = ({ before, after }: (typeof found)[number]): number => after - before;
    const own = sum(change, 'soaked', 'standing', 'basin', 'barrel', 'sewer');
    const passedOn = found
      .filter(({ about, id }) => about === 'exchange' && id === 'own')
      .reduce((all, each) => all + change(each), 0);
    const comesIn = found
      .filter(({ about, to }) => (about === 'exchange' || about === 'run-on') && to === 'own')
      .reduce((all, each) => all + change(each), 0);
    // Shares over a line that are not worth naming are the rest.
    expect(Math.abs(own + passedOn - comesIn)).toBeLessThan(0.02);
  });

  it('tell nothing at walls that stand in one of them alone', () => {
    const found = figures(planOf([...standing, shed]));
    expect(found.filter(({ about }) => about === 'at-wall').map(({ id }) => id)).toEqual(['house']);
  });
});

describe('the doubt of what differs', () => {
  it('is none where nothing differs, whatever the error of the heights', () => {
    for (const { lowest, highest } of doubts(planOf(standing), { surfaces: 4 }).values()) {
      expect([lowest, highest]).toEqual([0, 0]);
    }
  });

  it('holds the change as it was computed, and is smaller for smaller errors', () => {
    const plan = planOf([...standing, wall]);
    const sent = figures(plan).find(fromUphill);
    if (sent === undefined) throw new Error('Uphill sends nothing');
    const change = sent.after - sent.before;
    const wide = doubts(plan).get(figureKey(sent));
    const narrow = doubts(plan, { errors: errorsOf(elevation.cellM, { rmseM: 0.005 }) }).get(
      figureKey(sent),
    );
    if (wide === undefined || narrow === undefined) throw new Error('No doubt of it');
    expect(narrow.highest - narrow.lowest).toBeLessThan(wide.highest - wide.lowest);
    expect(narrow.lowest).toBeLessThanOrEqual(change + 0.05 * Math.abs(change));
    expect(narrow.highest).toBeGreaterThanOrEqual(change - 0.05 * Math.abs(change));
    // Nobody doubts that a wall along the line keeps water out.
    expect(wide.highest).toBeLessThan(0);
  });
});
