import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../lib/plan/schema';
import { newFeature } from '../../../src/app/state/new-feature';

const plan: Plan = { type: 'FeatureCollection', features: [], lotfall: { version: 1 } };
const outline = (...corners: [number, number][]) =>
  newFeature(plan, 'basin', {
    type: 'Polygon',
    coordinates: [[...corners, corners[0]].map(([x, y]) => [x * 1e-5, y * 1e-5])],
  });

describe('newFeature', () => {
  it('takes an outline', () => {
    expect(outline([0, 0], [5, 0], [5, 5])).toMatchObject({ id: 'basin-1' });
  });

  it('refuses an outline that no plan could be opened with again, in a sentence', () => {
    expect(outline([0, 0], [5, 5], [5, 0], [0, 5])).toMatch(/crosses or touches itself/);
    expect(outline([0, 0], [5, 0], [10, 0])).toMatch(/encloses nothing/);
  });
});
