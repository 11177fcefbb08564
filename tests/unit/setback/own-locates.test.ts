import { describe, expect, it } from 'vitest';
import type { LngLat } from '../../../lib/frame/frame';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';
import {
  keptLocate,
  recordedLocates,
  type KeptLocate,
  type TypedLocate,
} from '../../../src/app/questions/place/own-locates';
import { box, frame, planOf, type Drawn } from './plan-of';

const today = '2026-05-10';
const typed: TypedLocate = {
  by: 'public',
  services: ['gas', 'water'],
  on: '2026-05-01',
  until: '2026-05-20',
  reference: ' T-17 ',
  ground: 'dig',
};
const dig: LngLat[][][] = [
  [[...box(-3, -3, 9, 7), box(-3, -3, 9, 7)[0]].map((at) => frame.toLngLat(at))],
];
const lot: Drawn = {
  id: 'lot',
  properties: { kind: 'lot', own: true },
  rings: [box(-40, -20, 40, 20)],
};
const basin: Drawn = {
  id: 'b',
  properties: { kind: 'basin', side_slope: 0 },
  rings: [box(0, 0, 6, 4)],
};

function kept(more: Partial<TypedLocate> = {}): KeptLocate {
  const made = keptLocate({ ...typed, ...more }, dig);
  if (typeof made === 'string') throw new Error(made);
  return made;
}

function planWith(locates: KeptLocate[], ...drawn: Drawn[]): Plan {
  const { plan } = planOf(...drawn);
  return { ...plan, lotfall: { ...plan.lotfall, locates } };
}

describe('an answer typed in', () => {
  it('is kept as a plan can be read with it', () => {
    const answers = [kept(), kept({ ground: 'lot', reference: '' })];
    const { plan } = readPlan(JSON.stringify(planWith(answers, lot, basin)), 'x');
    expect(plan.lotfall.locates).toEqual(answers);
    expect(answers[0]).toMatchObject({ reference: 'T-17', area: { type: 'MultiPolygon' } });
    expect(answers[1]).not.toHaveProperty('reference');
    expect(answers[1].area).toBe('lot');
  });

  it.each<[string, Partial<TypedLocate>, RegExp]>([
    ['who', { by: '' }, /Say who answered/],
    ['what for', { services: [] }, /for which services/],
    ['on which day', { on: '' }, /Give the day/],
    ['until when', { until: '' }, /last day it is good for/],
    ['days in order', { until: '2026-04-30' }, /lies before the day of the answer/],
  ])('is not without %s', (_, more, sentence) => {
    expect(keptLocate({ ...typed, ...more }, dig)).toMatch(sentence);
  });

  it('needs a basin to be about the ground to be dug, and none to be about the lot', () => {
    expect(keptLocate(typed, null)).toMatch(/no basin/);
    expect(keptLocate({ ...typed, ground: 'lot' }, null)).toMatchObject({ area: 'lot' });
  });
});

describe('answers on record', () => {
  it('say what each is worth today', () => {
    const elsewhere: Drawn = { ...basin, rings: [box(10, 0, 16, 4)] };
    const answers = [kept(), kept({ until: '2026-05-09' }), kept({ on: '2026-05-11' })];
    const decade = kept({ until: '2036-05-20' });
    const worth = (...drawn: Drawn[]) =>
      recordedLocates(planWith(answers, lot, ...drawn), frame.spec, today).map(
        ({ counts, words }) => [counts, words],
      );
    const stale = [
      [false, 'has run out'],
      [false, 'is dated later than today'],
    ];
    expect(worth(basin)).toEqual([[true, 'counts for the ground to be dug today'], ...stale]);
    expect(worth(elsewhere)[0]).toEqual([false, 'is about other ground than is to be dug today']);
    expect(worth()).toEqual([[false, 'is in time; nothing is to be dug yet'], ...stale]);
    expect(recordedLocates(planWith([decade], lot, basin), frame.spec, today)).toMatchObject([
      { counts: false, words: 'has dates more than a year off: check them' },
    ]);
    expect(recordedLocates(planWith(answers, lot), null, today)).toEqual([]);
  });
});
