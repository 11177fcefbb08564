import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../../lib/plan/schema';
import { readRecord } from '../../../../src/app/state/files/kept-record';
import {
  latestWorks,
  workOf,
  type HalfDrawn,
  type KeptWork,
} from '../../../../src/app/state/session/kept-work';
import { planTitle } from '../../../../src/app/state/plan/plan-title';

const work = (plan: string, minute: number, drawing: HalfDrawn | null = null): KeptWork => ({
  id: `${plan}-${minute}`,
  plan,
  title: null,
  at: `2026-05-01T10:${String(minute).padStart(2, '0')}:00.000Z`,
  elevation: null,
  drawing,
});

describe('kept works', () => {
  it('are the latest ones, the latest first, each plan once', () => {
    const works = [work('a', 1), work('b', 5), work('a', 4), work('c', 3), work('d', 2)];
    expect(latestWorks(works).map(({ id }) => id)).toEqual(['b-5', 'a-4', 'c-3']);
  });

  it('differ also by what is half drawn on them', () => {
    const begun: HalfDrawn = { kind: 'lot', corners: [[-93, 44]], outline: null };
    expect(latestWorks([work('a', 1), work('a', 2, begun)])).toHaveLength(2);
  });

  it('carry the name of the plan', () => {
    const plan: Plan = {
      type: 'FeatureCollection',
      features: [],
      lotfall: { version: 1, name: 'Corner lot' },
    };
    const kept = workOf({ plan, elevation: null, drawing: null }, 'an id');
    expect(kept).toMatchObject({ id: 'an id', title: 'Corner lot', elevation: null });
  });
});

describe('a record of the browser’s store', () => {
  const record = { ...work('a', 1), elevation: { name: 'yard.tif', key: 'k' }, aside: [] };

  it('is read as it was written, after a trip through text too', () => {
    expect(readRecord(record)).toEqual(record);
    expect(readRecord(JSON.parse(JSON.stringify(record)))).toEqual(record);
  });

  it.each([
    [null],
    ['text'],
    [{ ...record, at: 'yesterday' }],
    [{ ...record, plan: 7 }],
    [{ id: 'x' }],
  ])('that is broken is known for it: %o', (value) => {
    expect(readRecord(value)).toBeNull();
  });

  it('keeps its plan where only what is half drawn or the elevation is broken', () => {
    const broken = { ...record, drawing: { kind: 'castle' }, elevation: 3 };
    expect(readRecord(broken)).toMatchObject({ plan: 'a', drawing: null, elevation: null });
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
