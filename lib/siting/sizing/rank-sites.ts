import type { XY } from '../../frame/frame';
import { boundsOf } from '../../frame/shapes';
import { outlineOf, separation } from '../../setback/measure/outline';
import { scoreOf, type ScoreWeights } from './score';
import { sitingDefaults } from './siting-input';
import type { CandidateSite } from './siting-result';
import { isMore, largestFirst } from '../rounding';

/** Two sites are told apart when their basins do not touch and their middles are this far apart, metres. */
const apartM = 3;

interface Place {
  readonly at: XY;
  readonly rim: readonly XY[];
}

/** Whether two places are two: neither touching nor all but the same. */
export function areApart(a: Place, b: Place): boolean {
  if (isMore(apartM, Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]))) return false;
  const one = boundsOf(a.rim);
  const other = boundsOf(b.rim);
  if (
    one.west > other.east ||
    other.west > one.east ||
    one.south > other.north ||
    other.south > one.north
  )
    return true;
  const around = ({ rim }: Place) => outlineOf({ type: 'polygon', rings: [rim] });
  return separation(around(a), around(b)).distanceM > 0;
}

/** Indices of the best places that lie apart from one another, best first; of scores equal up to rounding the one that came first. */
export function bestApart(
  places: readonly Place[],
  scores: readonly number[],
  atMost: number,
): number[] {
  const order = places.map((_, i) => i).sort((a, b) => largestFirst(scores[a], scores[b]) || a - b);
  const kept: number[] = [];
  for (const i of order) {
    if (kept.length >= atMost) break;
    if (kept.every((other) => areApart(places[i], places[other]))) kept.push(i);
  }
  return kept;
}

/**
 * Ranks candidates by other weights, without a new search.
 *
 * @returns the best `maxSites` that lie apart from one another, their rank and score by these weights.
 */
export function rankSites(
  candidates: readonly CandidateSite[],
  weights: ScoreWeights,
  maxSites: number = sitingDefaults.maxSites,
): CandidateSite[] {
  const scores = candidates.map((site) => scoreOf(site.parts, weights));
  return bestApart(candidates, scores, maxSites).map((i, rank) => ({
    ...candidates[i],
    rank: rank + 1,
    score: scores[i],
  }));
}
