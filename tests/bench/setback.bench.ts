import { bench, describe } from 'vitest';
import type { XY } from '../../lib/frame/frame';
import { checkSetbacks } from '../../lib/setback/check';
import { ruleSetById } from '../../lib/setback/rule-sets';
import { box, disc, planOf, type Drawn } from '../unit/setback/plan-of';

/** A busy lot: trees, buildings of twelve corners, lines of ten and parcels, `count` in all. */
function busyPlan(count: number): Drawn[] {
  const at = (i: number): XY => [((i * 37) % 200) - 100, ((i * 61) % 170) - 85];
  const drawn = Array.from({ length: count - 1 }, (_, i): Drawn => {
    const [x, y] = at(i);
    const id = `f${i}`;
    if (i % 4 === 0) {
      return {
        id,
        properties: { kind: 'building', foundation: 'slab' },
        rings: [disc([x, y], 5, 12)],
      };
    }
    if (i % 4 === 1) {
      const line = Array.from({ length: 10 }, (_, k): XY => [x + 3 * k, y + (k % 2)]);
      return { id, properties: { kind: 'utility', service: 'water', side: 'private' }, line };
    }
    return {
      id,
      properties: { kind: 'tree', trunk_diameter_m: 0.4, canopy_radius_m: 4 },
      point: [x, y],
    };
  });
  return [
    { id: 'lot', properties: { kind: 'lot', own: true }, rings: [box(-110, -95, 110, 95)] },
    ...drawn,
  ];
}

describe('checkSetbacks while dragging', () => {
  const ruleSet = ruleSetById('default');
  for (const count of [250, 500, 1000]) {
    const plan = planOf(...busyPlan(count));
    let step = 0;
    bench(`${count} features, rim of 64 points`, () => {
      step = (step + 1) % 50;
      const rim = disc([step * 0.1, 3], 2.5);
      checkSetbacks({ plan, basins: [{ id: 'b', rim }], ruleSet, today: '2026-05-10' });
    });
  }
});
