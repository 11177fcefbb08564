import { describe, expect, it } from 'vitest';
import { applyChange } from '../../../lib/plan/change';
import { commit, mostUndone, redo, startHistory, undo } from '../../../lib/plan/history';
import type { Plan, PlanFeature } from '../../../lib/plan/schema';

function tree(id: string, canopyM = 2): PlanFeature {
  return Object.freeze({
    type: 'Feature',
    id,
    geometry: { type: 'Point', coordinates: [-70.4, 39.77] },
    properties: { kind: 'tree', canopy_radius_m: canopyM },
  } satisfies PlanFeature);
}

function planOf(...ids: string[]): Plan {
  return Object.freeze({
    type: 'FeatureCollection',
    features: Object.freeze(ids.map((id) => tree(id))),
    lotfall: { version: 1 },
  } satisfies Plan);
}

const idsOf = (plan: Plan) => plan.features.map(({ id }) => id).join('');

describe('applyChange', () => {
  it('replaces in place, adds at the end, takes out, and goes back exactly', () => {
    const plan = planOf('a', 'b', 'c', 'd');
    const change = { label: 'x', puts: [tree('c', 9), tree('e')], deletes: ['a', 'd'] };
    const after = applyChange(plan, change);
    expect(idsOf(after.plan)).toBe('bce');
    expect(after.plan.features[0]).toBe(plan.features[1]);
    expect(applyChange(after.plan, after.inverse).plan).toEqual(plan);
  });

  it('puts a new feature in its place', () => {
    const after = applyChange(planOf('a', 'b'), { label: 'x', puts: [tree('c')], places: [1] });
    expect(idsOf(after.plan)).toBe('acb');
  });

  it('changes settings alone and shares the features', () => {
    const plan = planOf('a');
    const after = applyChange(plan, { label: 'storm', settings: { version: 1, units: 'us' } });
    expect(after.plan.lotfall.units).toBe('us');
    expect(after.plan.features).toBe(plan.features);
    expect(applyChange(after.plan, after.inverse).plan.lotfall).toBe(plan.lotfall);
  });

  it('gives back the same plan when nothing changes', () => {
    const plan = planOf('a');
    expect(applyChange(plan, { label: 'x', deletes: ['z'], puts: [plan.features[0]] }).plan).toBe(
      plan,
    );
  });
});

describe('history', () => {
  it('undoes and redoes in order, and a new change drops what was undone', () => {
    let history = startHistory(planOf());
    for (const id of ['a', 'b', 'c']) history = commit(history, { label: id, puts: [tree(id)] });
    history = undo(undo(history));
    expect(idsOf(history.plan)).toBe('a');
    expect(history.undone.map(({ label }) => label)).toEqual(['c', 'b']);
    expect(idsOf(redo(history).plan)).toBe('ab');
    history = commit(history, { label: 'd', puts: [tree('d')] });
    expect(redo(history)).toBe(history);
    expect(idsOf(undo(history).plan)).toBe('a');
  });

  it('keeps so many changes and no more, and none without effect', () => {
    let history = startHistory(planOf());
    for (let i = 0; i < mostUndone + 5; i++) {
      history = commit(history, { label: `${i}`, puts: [tree(`${i}`)] });
    }
    expect(history.done).toHaveLength(mostUndone);
    expect(history.done[0].label).toBe('5');
    expect(commit(history, { label: 'none' })).toBe(history);
  });
});
