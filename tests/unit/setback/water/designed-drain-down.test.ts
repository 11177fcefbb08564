import { describe, expect, it } from 'vitest';
import type { BasinDesign, DesignResult } from '../../../../lib/basin/design/design-result';
import { designedDrainDownH } from '../../../../lib/setback/water/designed-drain-down';

function design(drainDown: Pick<BasinDesign['drain_down'], 'judged_h' | 'result'>): DesignResult {
  const worked = { id: 'worked', name: 'Worked', drain_down: drainDown };
  const basins = [worked as BasinDesign, { id: 'not', name: 'Not', not_dug: 'too steep' }];
  return { basins } as unknown as DesignResult;
}

describe('how long water stands in a designed basin', () => {
  it('is what the design judges by', () => {
    expect(designedDrainDownH(design({ judged_h: 12.5, result: 'pass' }), 'worked')).toBe(12.5);
    expect(designedDrainDownH(design({ judged_h: 60, result: 'fail' }), 'worked')).toBe(60);
  });

  it('has no end where some still stands when the time looked at is over', () => {
    expect(designedDrainDownH(design({ judged_h: null, result: 'fail' }), 'worked')).toBe(Infinity);
  });

  it('is not known without a rate of the soil, nor of a basin that cannot be dug or is not there', () => {
    const unknown = design({ judged_h: null, result: 'check' });
    for (const id of ['worked', 'not', 'none'])
      expect(designedDrainDownH(unknown, id)).toBeUndefined();
  });
});
