import { describe, expect, it } from 'vitest';
import { nearTies, nearTieWords } from '../../../../lib/siting/answer/near-ties';
import { defaultWeights, type ScoreWeights } from '../../../../lib/siting/sizing/score';
import type { CandidateSite } from '../../../../lib/siting/sizing/siting-result';

/** Places of 20 m2 on 4 %, to which 300 m2 drain, of these scores. */
function places(...scores: readonly number[]): CandidateSite[] {
  return scores.map((score, i) => ({
    rank: i + 1,
    score,
    slope: 0.04,
    area_m2: 20,
    cut_m3: 4,
    catches_m2: 300,
    parts: {
      caught: 0.8,
      margin: 1,
      slope: 0.6,
      digging: 0.7,
      downspout: null,
      dryness: 1,
      recommended: 1,
    },
  })) as unknown as CandidateSite[];
}
const lidar = { shortM: 0.03 };

describe('places as good as the first within the error of the heights', () => {
  it('are those whose scores differ by less than heights that are off can change them', () => {
    expect(nearTies(places(0.7, 0.69, 0.5), defaultWeights, lidar)).toEqual([2]);
    expect(nearTies(places(0.7, 0.5, 0.4), defaultWeights, lidar)).toEqual([]);
    expect(nearTies([], defaultWeights, lidar)).toEqual([]);
  });

  it('are the more the rougher the heights, and with none off only the equal ones', () => {
    const found = places(0.7, 0.69, 0.65, 0.6, 0.4);
    const counts = [0, 0.01, 0.03, 0.1, 0.3].map(
      (shortM) => nearTies(found, defaultWeights, { shortM }).length,
    );
    expect(counts).toEqual([...counts].sort((a, b) => a - b));
    expect(counts[0]).toBe(0);
    expect(counts[4]).toBeGreaterThan(counts[1]);
    expect(nearTies(places(0.7, 0.7), defaultWeights, { shortM: 0 })).toEqual([2]);
  });

  it('are told apart by what heights do not move, where only that counts', () => {
    const byMargin: ScoreWeights = { ...defaultWeights, caught: 0, slope: 0, digging: 0 };
    expect(nearTies(places(0.7, 0.699), byMargin, lidar)).toEqual([]);
  });

  it('are said in a sentence', () => {
    expect(nearTieWords([])).toEqual([]);
    expect(nearTieWords([2])[0]).toMatch(/^Place 2 is as good as the first within the error/);
    expect(nearTieWords([2, 3, 5])[0]).toMatch(/^Places 2, 3 and 5 are as good/);
  });
});
