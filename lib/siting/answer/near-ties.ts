import { steepestRatio } from '../../basin/form/size-factors';
import type { ErrorModel } from '../../drainage/height-error/error-field';
import { scorePartNames, type ScorePart, type ScoreWeights } from '../sizing/score';
import type { CandidateSite } from '../sizing/siting-result';

/** No ground is taken to be flatter than this where heights that are off move the way of water: 1 %, common practice, no source. */
const leastSlope = 0.01;

/**
 * Ranks of the places that are as good as the first within the error of the heights: their scores differ by less than one
 * standard deviation of the difference.
 *
 * A first estimate, by how far heights within a few metres are off from one another: it tilts the ground across a place,
 * adds to the dig all over it, and shifts the edges of what drains there by the error over the slope. Places are taken to
 * be off independently. Our choice, no source; for a catch to be relied on, run-off over equally likely surfaces tells more.
 *
 * @param sites - ranked, the best first.
 */
export function nearTies(
  sites: readonly CandidateSite[],
  weights: ScoreWeights,
  { shortM }: Pick<ErrorModel, 'shortM'>,
): number[] {
  const [first, ...others] = sites;
  if (first === undefined) return [];
  const errorOf = (site: CandidateSite): number => scoreError(site, weights, shortM);
  return others.flatMap((site) =>
    first.score - site.score <= Math.hypot(errorOf(first), errorOf(site)) ? [site.rank] : [],
  );
}

/** The same in a sentence; none where the first is better than any other. */
export function nearTieWords(ranks: readonly number[]): string[] {
  if (ranks.length === 0) return [];
  const names = ranks.map(String);
  const last = names.pop() ?? '';
  const [places, are] = names.length === 0 ? ['Place', 'is'] : ['Places', 'are'];
  const listed = names.length === 0 ? last : `${names.join(', ')} and ${last}`;
  return [
    `${places} ${listed} ${are} as good as the first within the error of the heights: choose by what you know of the yard.`,
  ];
}

/** Standard deviation of a place's score from heights that are off by `shortM`. */
function scoreError(site: CandidateSite, weights: ScoreWeights, shortM: number): number {
  const { parts, slope, area_m2, cut_m3, catches_m2 } = site;
  const apartM = Math.SQRT2 * shortM;
  const shiftM = apartM / Math.max(slope ?? 0, leastSlope);
  const share = (value: number): number => Math.min(1, value);
  const errors: Readonly<Partial<Record<ScorePart, number>>> = {
    caught: parts.caught * share(shiftM / Math.sqrt(Math.max(1, catches_m2))),
    slope: share(apartM / Math.sqrt(area_m2) / steepestRatio),
    digging: parts.digging * (cut_m3 > 0 ? share((shortM * area_m2) / cut_m3) : 0),
  };
  let weight = 0;
  let squares = 0;
  for (const name of scorePartNames) {
    if (parts[name] === null) continue;
    weight += weights[name];
    squares += (weights[name] * (errors[name] ?? 0)) ** 2;
  }
  return weight > 0 ? Math.sqrt(squares) / weight : 0;
}
