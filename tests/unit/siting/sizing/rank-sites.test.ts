import { describe, expect, it } from 'vitest';
import { bestApart, rankSites } from '../../../../lib/siting/sizing/rank-sites';
import {
  defaultWeights,
  readWeights,
  scoreOf,
  type ScoreWeights,
} from '../../../../lib/siting/sizing/score';
import { searchSites } from '../../../../lib/siting/search/search-sites';
import { box, fallingSouth, inputOf, lotWithHouse } from '../sloping-lot';

const plan = lotWithHouse(box(0, 0, 40, 50), box(12, 32, 26, 44));
const input = inputOf(plan, fallingSouth(-10, 60, 60, 70, 1, 0.03), [
  { id: 'south-east', at: [26.3, 31.8], areaM2: 84 },
]);
const nothing: ScoreWeights = {
  caught: 0,
  margin: 0,
  slope: 0,
  digging: 0,
  downspout: 0,
  dryness: 0,
  recommended: 0,
};

describe('rankSites', () => {
  it('ranks what was found by other weights, without a new search', async () => {
    const { sites, candidates } = await searchSites(input);
    expect(rankSites(candidates, defaultWeights)).toEqual(sites);
    const before = JSON.stringify(candidates);

    const byDownspout = rankSites(candidates, { ...nothing, downspout: 1 });
    const nearest = Math.max(...candidates.map(({ parts }) => parts.downspout ?? 0));
    expect(byDownspout[0].parts.downspout).toBe(nearest);
    const byWater = rankSites(candidates, { ...nothing, caught: 1 });
    expect(byWater[0].parts.caught).toBe(Math.max(...candidates.map(({ parts }) => parts.caught)));
    expect(byWater[0].at).not.toEqual(byDownspout[0].at);

    for (const ranked of [byDownspout, byWater]) {
      expect(ranked.map(({ rank }) => rank)).toEqual(ranked.map((_, i) => i + 1));
      const scores = ranked.map(({ score }) => score);
      expect(scores).toEqual([...scores].sort((a, b) => b - a));
    }
    expect(byWater[0].score).toBe(byWater[0].parts.caught);
    expect(JSON.stringify(candidates)).toBe(before);
  });

  it('leaves out what touches something better', () => {
    const at = (x: number) => ({ at: [x, 0] as const, rim: box(x - 2, -2, x + 2, 2) });
    const places = [at(0), at(3), at(9), at(0.5)];
    expect(bestApart(places, [0.5, 0.9, 0.1, 0.4], 8)).toEqual([1, 2]);
    expect(bestApart(places, [0.9, 0.5, 0.1, 0.4], 8)).toEqual([0, 2]);
    expect(bestApart(places, [0.9, 0.5, 0.1, 0.4], 1)).toEqual([0]);
  });
});

describe('weights', () => {
  it('keep the default where none is given, stay within bounds, and say what they are not', () => {
    expect(readWeights({ caught: 2, slope: 40, margin: -3 })).toEqual({
      weights: { ...defaultWeights, caught: 2, slope: 10, margin: 0 },
      notes: [],
    });
    const odd = readWeights({ beauty: 3 });
    expect(odd.weights).toEqual(defaultWeights);
    expect(odd.notes[0]).toMatch(/^'beauty' is no part of a site's score .*caught/);
    const none = readWeights(nothing);
    expect(none.weights).toEqual(defaultWeights);
    expect(none.notes).toHaveLength(1);
  });

  it('weigh only parts that are known', () => {
    const parts = {
      caught: 0.5,
      margin: 1,
      slope: null,
      digging: 0,
      downspout: null,
      dryness: 1,
      recommended: 1,
    };
    expect(scoreOf(parts, { ...nothing, caught: 3, margin: 1, slope: 5 })).toBeCloseTo(2.5 / 4, 12);
    expect(scoreOf(parts, { ...nothing, slope: 5 })).toBe(0);
  });
});
