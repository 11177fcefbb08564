import { beforeEach, describe, expect, it } from 'vitest';
import { PlanStore } from '../../../../src/app/state/plan/plan-store.svelte';
import { box, planOf, polygonOf } from '../../ground/plane-lot';

const at = (west: number) => polygonOf('basin', box(west, 0, west + 4, 4), { kind: 'basin' });
const start = planOf([at(0)]).plan;

let store: PlanStore;
beforeEach(() => {
  store = new PlanStore(start);
});

describe('the plan and its draft', () => {
  it('shows a draft without changing the plan, and goes back to the very plan when it is dropped', () => {
    store.draft(at(5));
    expect(store.plan).toBe(start);
    expect(store.shown.features).toEqual([at(5)]);
    expect(store.canUndo).toBe(false);
    store.draft(null);
    expect(store.shown).toBe(start);
  });

  it.each([
    [
      'a change',
      () => {
        store.put('move basin', at(9));
      },
    ],
    [
      'undoing',
      () => {
        store.undo();
      },
    ],
    [
      'redoing',
      () => {
        store.redo();
      },
    ],
    [
      'another plan',
      () => {
        store.open(planOf([]).plan);
      },
    ],
  ])('has no draft left after %s', (_, act) => {
    store.draft(at(5));
    act();
    expect(store.shown).toBe(store.plan);
  });

  it('names what would be taken back and done again', () => {
    store.put('move basin', at(5));
    store.set('rain more', { storm: { rain_mm: 50 } });
    expect([store.undoLabel, store.redoLabel]).toEqual(['rain more', '']);
    store.undo();
    expect([store.undoLabel, store.redoLabel]).toEqual(['move basin', 'rain more']);
    store.undo();
    expect(store.plan).toEqual(start);
    expect([store.canUndo, store.canRedo]).toEqual([false, true]);
    store.redo();
    expect(store.plan.features).toEqual([at(5)]);
  });

  it('leaves the past behind with another plan', () => {
    store.put('move basin', at(5));
    store.open(start);
    expect([store.canUndo, store.canRedo]).toEqual([false, false]);
  });

  it('shows settings as a slider has them, beside the features as they are', () => {
    store.draftSettings({ storm: { rain_mm: 70 } });
    expect(store.shown.lotfall.storm).toEqual({ rain_mm: 70 });
    expect(store.shown.features).toBe(store.plan.features);
  });
});

describe('changes that go on with the one before', () => {
  it('are one step to undo, back to where the first began, and one to redo', () => {
    store.put('move basin', at(1));
    store.put('move basin', at(2), true);
    store.put('move basin', at(3), true);
    expect(store.plan.features).toEqual([at(3)]);
    store.undo();
    expect(store.plan).toEqual(start);
    expect(store.canUndo).toBe(false);
    store.redo();
    expect(store.plan.features).toEqual([at(3)]);
  });

  it('stay apart where the one before was another', () => {
    store.put('move basin', at(1), true);
    store.set('change the units', { units: 'us' });
    store.put('move basin', at(2), true);
    store.put('change basin', at(3), true);
    const labels: string[] = [];
    while (store.canUndo) {
      labels.push(store.undoLabel);
      store.undo();
    }
    expect(labels).toEqual(['change basin', 'move basin', 'change the units', 'move basin']);
    expect(store.plan).toEqual(start);
  });
});
