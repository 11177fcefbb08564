import { describe, expect, it } from 'vitest';
import {
  nextFeature,
  ruleWords,
  spokenFeature,
  spokenPlace,
  walkOrder,
  wetWords,
} from '../../../src/app/sheet/spoken';
import { box, frame, lineOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

const line = lineOf(
  'line',
  [
    [0, 0],
    [3, 4],
  ],
  { kind: 'utility', service: 'gas', name: 'Gas main' },
);
const tree = pointOf('tree-1', [12, -4], { kind: 'tree' });
const house = polygonOf('house', box(0, 0, 10, 8), { kind: 'building', name: 'House' });
const lot = polygonOf('lot', box(-20, -20, 20, 20), { kind: 'lot', own: true, name: 'Lot' });
const { plan } = planOf([tree, line, house, lot]);
const terms = { frame, units: 'metric', from: frame.toLngLat([0, 0]) } as const;

describe('the walk through the plan by keys', () => {
  it('goes kind by kind, round at either end', () => {
    const ids = walkOrder(plan).map(({ id }) => id);
    expect(ids).toEqual(['lot', 'house', 'line', 'tree-1']);
    expect(nextFeature(plan, null, 1)?.id).toBe('lot');
    expect(nextFeature(plan, null, -1)?.id).toBe('tree-1');
    expect(nextFeature(plan, 'house', 1)?.id).toBe('line');
    expect(nextFeature(plan, 'tree-1', 1)?.id).toBe('lot');
    expect(nextFeature(plan, 'lot', -1)?.id).toBe('tree-1');
    expect(nextFeature({ ...plan, features: [] }, null, 1)).toBeNull();
  });
});

describe('what is spoken', () => {
  it('is name, kind, size, state, place and turn', () => {
    expect(spokenFeature(house, plan, terms, ['dry walls'])).toBe(
      'House, building, 80 m², foundation not given, dry walls, 5.00 m east and 4.00 m north of the middle, 2 of 4',
    );
    expect(spokenFeature(line, plan, terms)).toContain(
      'Gas main, utility line, 5.00 m long, gas, not located, ',
    );
    expect(spokenFeature(tree, plan, terms)).toBe(
      'tree 1, 12.00 m east and 4.00 m south of the middle, 4 of 4',
    );
    expect(spokenFeature(lot, plan, terms)).toContain('1,600 m², the lot being planned');
    expect(spokenPlace(terms.from, terms)).toBe('in the middle of the lot');
    expect(spokenPlace(frame.toLngLat([-0.3, 0]), terms)).toBe('30 cm west of the middle');
  });

  it('tells water by walls and what the rules say', () => {
    const buildings = [
      { building: 'house', depth_m: 0.16 },
      { building: 'shed', depth_m: 0 },
    ] as never;
    expect(wetWords({ buildings }, 'house', 'metric')).toEqual(['water stands by it, 16 cm deep']);
    expect(wetWords({ buildings }, 'shed', 'metric')).toEqual(['dry walls']);
    expect(wetWords(null, 'house', 'metric')).toEqual([]);
    const results = ['pass', 'pass', 'fail', 'check'].map((result) => ({ basin: 'b', result }));
    expect(ruleWords({ results } as never, 'b')).toEqual([
      '2 rules met, 1 not, 1 cannot be judged',
    ]);
    expect(ruleWords({ results } as never, 'c')).toEqual([]);
  });
});
