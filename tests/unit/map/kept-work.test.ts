import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../lib/plan/schema';
import { latestWorks, workOf } from '../../../src/app/state/kept-work';
import { planTitle } from '../../../src/app/state/plan-title';

const work = (plan: string, minute: number) => ({
  plan,
  title: null,
  at: `2026-05-01T10:${String(minute).padStart(2, '0')}:00.000Z`,
  elevation: null,
});

describe('kept works', () => {
  it('are the latest ones, the latest first, each plan once', () => {
    const works = [work('a', 1), work('b', 5), work('a', 4), work('c', 3), work('d', 2)];
    expect(latestWorks(works).map(({ plan, at }) => `${plan}${at.slice(15, 16)}`)).toEqual([
      'b5',
      'a4',
      'c3',
    ]);
  });

  it('leave out an elevation that is too large, and carry the name of the plan', () => {
    const plan: Plan = {
      type: 'FeatureCollection',
      features: [],
      lotfall: { version: 1, name: 'Corner lot' },
    };
    const blob = { size: 60_000_000 } as Blob;
    expect(workOf(plan, { name: 'large.tif', blob })).toMatchObject({
      title: 'Corner lot',
      elevation: null,
    });
  });
});

describe('the title of a plan', () => {
  const lot = (own: boolean, name?: string): Plan['features'][number] => ({
    type: 'Feature',
    id: own ? 'own' : 'other',
    geometry: { type: 'Polygon', coordinates: [] },
    properties: { kind: 'lot', own, ...(name === undefined ? {} : { name }) },
  });
  const plan = (features: Plan['features'], name?: string): Plan => ({
    type: 'FeatureCollection',
    features,
    lotfall: { version: 1, ...(name === undefined ? {} : { name }) },
  });

  it('is its own name, else that of the lot being planned', () => {
    expect(planTitle(plan([lot(true, 'Lot 7')], 'Sheet 3'))).toBe('Sheet 3');
    expect(planTitle(plan([lot(false, 'Lot 8'), lot(true, 'Lot 7')]))).toBe('Lot 7');
    expect(planTitle(plan([lot(false, 'Lot 8'), lot(true)]))).toBeNull();
  });
});
