import { expect, it } from 'vitest';
import { seenWater, type SeenAgainst } from '../../../lib/drainage/answer/seen-water';
import { planOf, pointOf } from '../ground/plane-lot';

const against: SeenAgainst = { depthAt: () => 0.1, rainMm: 40, errorM: 0.05, rateMPerS: 2e-6 };

function seen(properties: object, more: Partial<SeenAgainst> = {}) {
  const { plan } = planOf([pointOf('seen', [5, 5], { kind: 'observation', ...properties })]);
  return seenWater(plan, { ...against, ...more })[0];
}

it('agrees within the error of the heights, and says which way it does not', () => {
  expect(seen({ depth_m: 0.14 }).depth).toBe('agrees');
  expect(seen({ depth_m: 0.16 }).depth).toBe('deeper');
  expect(seen({ depth_m: 0.04 }).depth).toBe('shallower');
  expect(seen({ depth_m: 0.0 }).depth).toBe('computed-only');
  expect(seen({ depth_m: 0.2 }, { depthAt: () => 0 }).depth).toBe('seen-only');
  expect(seen({ depth_m: 0 }, { depthAt: () => 0.002 }).depth).toBe('agrees');
  // Near to nothing is not nothing: some was seen where none is computed.
  expect(seen({ depth_m: 0.03 }, { depthAt: () => 0 }).depth).toBe('seen-only');
});

it('compares nothing where other rain fell, no ground was read, or no depth is said', () => {
  expect(seen({ depth_m: 0.1, rain_mm: 20 }).depth).toBe('other-rain');
  expect(seen({ depth_m: 0.1, rain_mm: 42 }).depth).toBe('agrees');
  expect(seen({ depth_m: 0.1 }, { depthAt: () => null }).depth).toBe('unread');
  expect(seen({}).depth).toBe('unsaid');
});

it('tells from when it was gone how fast the soil takes it', () => {
  // 0.1 m in 10 h are 2.8e-6 m/s, near the rate for design; in 2 h five times as much.
  expect(seen({ depth_m: 0.1, gone_after_h: 10 })).toMatchObject({ rate: 'fits' });
  expect(seen({ depth_m: 0.1, gone_after_h: 10 }).fell?.mPerS).toBeCloseTo(0.1 / 36_000, 12);
  expect(seen({ depth_m: 0.1, gone_after_h: 2 }).rate).toBe('faster');
  expect(seen({ depth_m: 0.1, still_after_h: 72 })).toMatchObject({
    rate: 'slower',
    fell: { bound: 'at-most' },
  });
  expect(seen({ depth_m: 0.1, still_after_h: 72 }, { rateMPerS: null }).rate).toBeNull();
  expect(seen({ depth_m: 0, gone_after_h: 10 }).fell).toBeNull();
});
