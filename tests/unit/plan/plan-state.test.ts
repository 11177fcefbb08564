import { expect, it } from 'vitest';
import { localFrame, makeFrame } from '../../../lib/frame/frame';
import { toLocal } from '../../../lib/plan/local-plan';
import { planIn } from '../../../lib/plan/plan-state';
import { readPlan } from '../../../lib/plan/read-plan';

const plan = readPlan(
  JSON.stringify({
    type: 'FeatureCollection',
    lotfall: { version: 1 },
    features: ['existing', 'proposed', 'gone', undefined].map((state, i) => ({
      type: 'Feature',
      id: `well-${i}`,
      geometry: { type: 'Point', coordinates: [10 + i / 1e5, 50] },
      properties: { kind: 'well', ...(state === undefined ? {} : { state }) },
    })),
  }),
  'plan',
).plan;

const ids = (state: 'existing' | 'proposed') => planIn(plan, state).features.map(({ id }) => id);

it('stands today without what is proposed, and will stand without what goes', () => {
  expect(ids('existing')).toEqual(['well-0', 'well-2', 'well-3']);
  expect(ids('proposed')).toEqual(['well-0', 'well-1', 'well-3']);
});

it('is judged as it will be where nothing else is asked, and what goes is there while it stands', () => {
  const frame = makeFrame(localFrame([10, 50]));
  const judged = (each: typeof plan) => toLocal(each, frame).of.well.map(({ id }) => id);
  expect(judged(plan)).toEqual(['well-0', 'well-1', 'well-3']);
  expect(judged(planIn(plan, 'existing'))).toEqual(['well-0', 'well-2', 'well-3']);
});
