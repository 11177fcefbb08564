import { describe, expect, it } from 'vitest';
import { patternSearch, type Tried } from '../../../../lib/siting/search/pattern-search';

type Objective = (at: readonly number[]) => number | null;

/** Searches, and keeps every point that was asked about with what it gave. */
async function searched(objective: Objective, start: readonly number[], triesAtMost = 400) {
  const asked: { at: readonly number[]; value: number | null }[] = [];
  const tried = (at: readonly number[]): Tried<string> | null => {
    const value = objective(at);
    asked.push({ at, value });
    return value === null ? null : { value, what: at.join() };
  };
  const begun = tried(start);
  if (begun === null) throw new Error('the start must have a value');
  const found = await patternSearch(
    tried,
    start,
    begun,
    start.map(() => 1),
    {
      halvings: 12,
      triesAtMost,
    },
  );
  return { found, asked };
}

describe('patternSearch', () => {
  it('comes to the top of a hill with a ridge askew', async () => {
    const hill: Objective = ([x, y]) => -((x - 3) ** 2) - (y + 2) ** 2 - 1.2 * (x - 3) * (y + 2);
    const { found } = await searched(hill, [-4, 6]);
    expect(found.at[0]).toBeCloseTo(3, 2);
    expect(found.at[1]).toBeCloseTo(-2, 2);
    expect(found.what).toBe(found.at.join());
  });

  it('ends at the fence and never beyond it', async () => {
    const fenced: Objective = ([x, y]) => (x + y > 1 ? null : x + 2 * y - 0.1 * y * y);
    const { found, asked } = await searched(fenced, [-2, -2]);
    expect(found.at[0] + found.at[1]).toBeCloseTo(1, 2);
    expect(found.at[0] + found.at[1]).toBeLessThanOrEqual(1);
    expect(asked.some(({ value }) => value === null)).toBe(true);
  });

  it('gives the best of all that it asked about, and never less than the start', async () => {
    for (const turn of [0.3, 1.1, 2.9]) {
      const rough: Objective = ([x, y]) =>
        Math.sin(3 * x + turn) + Math.cos(4 * y - turn) - 0.05 * (x * x + y * y);
      const { found, asked } = await searched(rough, [turn, -turn]);
      const most = Math.max(...asked.map(({ value }) => value ?? -Infinity));
      expect(found.value).toBeCloseTo(most, 8);
      expect(found.value).toBeGreaterThanOrEqual(asked[0].value ?? Infinity);
    }
  });

  it('stays where it is on a plain, and keeps to the tries that it is given', async () => {
    const plain = await searched(() => 5, [1, 2, 3]);
    expect(plain.found.at).toEqual([1, 2, 3]);
    const cut = await searched(([x]) => x, [0], 7);
    // The start is asked about before the search.
    expect(cut.asked.length).toBe(8);
    expect(cut.found.tries).toBe(7);
  });
});
