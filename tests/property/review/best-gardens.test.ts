import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atOnce } from '../../../lib/drainage/steps';
import {
  bestGardens,
  isBetter,
  mostExhaustive,
  type GardenWorth,
} from '../../../lib/review/best-gardens';

/** What gardens are worth alone and in pairs, and which pairs and singles harm. */
const cases = (least: number, most: number) =>
  fc.integer({ min: least, max: most }).chain((n) =>
    fc.record({
      costs: fc.array(fc.integer({ min: 1, max: 9 }), { minLength: n, maxLength: n }),
      alone: fc.array(fc.integer({ min: -2, max: 6 }), { minLength: n, maxLength: n }),
      kept: fc.array(fc.integer({ min: 0, max: 6 }), { minLength: n, maxLength: n }),
      pairs: fc.array(
        fc.record({
          a: fc.nat(n - 1),
          b: fc.nat(n - 1),
          more: fc.integer({ min: -3, max: 8 }),
          harms: fc.boolean(),
        }),
        { maxLength: 5 },
      ),
      harmful: fc.array(fc.nat(n - 1), { maxLength: 2 }),
      budget: fc.integer({ min: 1, max: 5 * n }),
    }),
  );

type Case = ReturnType<typeof cases> extends fc.Arbitrary<infer T> ? T : never;

function worthIn({ alone, kept, pairs, harmful }: Case): (set: readonly number[]) => GardenWorth {
  return (set) => {
    const together = pairs.filter(({ a, b }) => a !== b && set.includes(a) && set.includes(b));
    return {
      harms: set.some((i) => harmful.includes(i)) || together.some(({ harms }) => harms),
      wallsM3:
        set.reduce((sum, i) => sum + alone[i], 0) +
        together.reduce((sum, { more }) => sum + more, 0),
      keptM3: set.reduce((sum, i) => sum + kept[i], 0),
    };
  };
}

const costOf = ({ costs }: Case, set: readonly number[]): number =>
  set.reduce((sum, i) => sum + costs[i], 0);

describe('the best gardens for a budget', () => {
  it('are paid for, and harm nobody at any stage of building', () => {
    fc.assert(
      fc.property(cases(1, 12), (each) => {
        const worth = worthIn(each);
        const found = atOnce(bestGardens(each.costs, each.budget, worth));
        if (found === null) return;
        expect(costOf(each, found.gardens)).toBeLessThanOrEqual(each.budget);
        for (let stage = 1; stage <= found.gardens.length; stage++) {
          expect(worth(found.gardens.slice(0, stage)).harms).toBe(false);
        }
        expect(found.exhaustive).toBe(each.costs.length <= mostExhaustive);
      }),
      { numRuns: 300, seed: 9 },
    );
  });

  it('are no worse than any set that could be built one by one, where all are tried', () => {
    fc.assert(
      fc.property(cases(1, 7), (each) => {
        const worth = worthIn(each);
        const found = atOnce(bestGardens(each.costs, each.budget, worth));
        // sets reached from nothing by adding one garden at a time without harm
        const reached = new Set(['']);
        for (const key of reached) {
          const set = key === '' ? [] : key.split(',').map(Number);
          each.costs.forEach((_, i) => {
            if (set.includes(i)) return;
            const next = [...set, i].sort((a, b) => a - b);
            if (!worth(next).harms) reached.add(next.join());
          });
          if (set.length === 0 || costOf(each, set) > each.budget) continue;
          const none = { harms: false, wallsM3: 0, keptM3: 0 };
          expect(isBetter(worth(set), found?.worth ?? none)).toBe(false);
        }
      }),
      { numRuns: 300, seed: 10 },
    );
  });

  it('are found where two help only together, among more than are all tried', () => {
    const worth = (set: readonly number[]): GardenWorth => ({
      harms: set.includes(4),
      wallsM3: set.includes(2) && set.includes(9) ? 3 : 0,
      keptM3: set.length,
    });
    const costs = Array.from({ length: 12 }, () => 1);
    const found = atOnce(bestGardens(costs, 2, worth));
    expect([...(found?.gardens ?? [])].sort((a, b) => a - b)).toEqual([2, 9]);
    expect(found?.exhaustive).toBe(false);
  });
});
