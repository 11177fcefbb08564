import { describe, expect, it } from 'vitest';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { surfaces } from '../../../lib/drainage/storm/surface-run-off';
import type { Settings } from '../../../lib/plan/schema';
import type { CoverCondition } from '../../../lib/storm/curve-numbers';
import { stormCurveNumber } from '../../../lib/storm/storm-curve-number';
import { groundOf, planOf } from '../ground/plane-lot';

const ground = groundOf(10, 10, 1, () => 5);

function laid(settings: Partial<Settings>) {
  const plan = planOf([], { ground_condition: undefined, ...settings });
  return surfaces(shapeGround(ground, plan).ground, plan);
}

describe('ground on which nothing is drawn', () => {
  it('is of the condition that gives most run-off while the plan does not say, and asks', () => {
    const { classes, notes } = laid({});
    const undrawn = stormCurveNumber(classes[0], 'average');
    for (const condition of ['poor', 'fair', 'good'] as CoverCondition[]) {
      expect(undrawn).toBeGreaterThanOrEqual(
        stormCurveNumber({ ...classes[0], condition }, 'average'),
      );
    }
    expect(notes.join()).toMatch(/not given: poor is taken, which gives most run-off/);
  });

  it('is as the plan says', () => {
    const { classes, notes } = laid({ ground_condition: 'good' });
    expect(classes[0]).toMatchObject({ cover: 'lawn', condition: 'good' });
    expect(notes).toEqual([]);
  });
});
