import { expect, it } from 'vitest';
import { futureDates } from '../../../lib/plan/future-dates';
import { planOf, pointOf } from '../ground/plane-lot';

it('says which of what was seen is dated later than today', () => {
  const { plan } = planOf([
    pointOf('wet', [0, 0], { kind: 'observation', on: '2026-03-02' }),
    pointOf('hole', [0, 0], { kind: 'soil-test', on: 'in spring' }),
    pointOf('oak', [0, 0], { kind: 'tree' }),
  ]);
  expect(futureDates(plan, '2026-03-01')).toEqual([
    expect.stringMatching(/^wet is dated 2026-03-02, which has not come yet/) as string,
  ]);
  expect(futureDates(plan, '2026-03-02')).toEqual([]);
});
