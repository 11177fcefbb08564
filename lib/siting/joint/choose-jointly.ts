import { areApart } from '../sizing/rank-sites';
import { scoreOf, scoreParts, type ScoreParts, type ScoreWeights } from '../sizing/score';
import type { SearchedLot } from '../sizing/searched-lot';
import type { Sized } from '../sizing/sized-place';
import { shareWater, type SharedWater } from './shared-water';
import { isMore, largestFirst } from '../rounding';

/** Basins chosen together and what each gets. */
export interface Joint extends SharedWater {
  readonly basins: readonly Sized[];
  /** What their bowls hold, what soaks in meanwhile left out. */
  readonly capturedM3: number;
  readonly score: number;
}

/** Starts of the greedy choice, and rounds of exchanging. */
const startsAtMost = 3;
const roundsAtMost = 4;

/**
 * Chooses several basins that share the water: from each of the best single places the others that add most, one after
 * the other; then each is exchanged for any that does better, until none does.
 *
 * Not surely the best of all sets, but none that differs from it in one basin is better. Deterministic.
 *
 * @param pool - places that comply, whether or not one alone would be large enough.
 * @returns `null` when so many do not lie apart from one another.
 * Cost: some k x k sweeps of the ground for each of about 4 k x (places in the pool) sets of k.
 */
export async function chooseJointly(
  searched: SearchedLot,
  pool: readonly Sized[],
  count: number,
  weights: ScoreWeights,
  pause: () => Promise<void>,
): Promise<Joint | null> {
  const holds = pool
    .map(({ scored, inflowM3 }) => Math.min(scored.bowlM3, inflowM3))
    .sort((a, b) => b - a);
  const mostM3 = holds.slice(0, count).reduce((sum, held) => sum + held, 0);
  const known = new Map<string, Joint>();
  const valueOf = async (members: readonly number[]): Promise<Joint> => {
    const key = [...members].sort((a, b) => a - b).join();
    let joint = known.get(key);
    if (joint === undefined) {
      joint = judge(
        searched,
        members.map((i) => pool[i]),
        mostM3,
        weights,
      );
      known.set(key, joint);
      await pause();
    }
    return joint;
  };
  const single = pool
    .map((each, i) => ({ i, score: scoreOf(scoreParts(each.scored, mostM3), weights) }))
    .sort((a, b) => largestFirst(a.score, b.score) || a.i - b.i)
    .map(({ i }) => i);

  let best: Joint | null = null;
  for (const start of single.slice(0, startsAtMost)) {
    const members = await grow([start], single, pool, count, valueOf);
    if (members === null) continue;
    const joint = await exchange(members, single, pool, valueOf);
    if (best === null || isMore(joint.score, best.score)) best = joint;
  }
  return best === null ? null : fitted(searched, best, mostM3, weights);
}

type Value = (members: readonly number[]) => Promise<Joint>;

async function grow(
  start: readonly number[],
  candidates: readonly number[],
  pool: readonly Sized[],
  count: number,
  valueOf: Value,
): Promise<number[] | null> {
  let members = [...start];
  while (members.length < count) {
    let grown: number[] | null = null;
    let most = -1;
    for (const i of candidates) {
      if (!members.every((other) => areApart(pool[i], pool[other]))) continue;
      const { score } = await valueOf([...members, i]);
      if (isMore(score, most)) {
        most = score;
        grown = [...members, i];
      }
    }
    if (grown === null) return null;
    members = grown;
  }
  return members;
}

async function exchange(
  members: number[],
  candidates: readonly number[],
  pool: readonly Sized[],
  valueOf: Value,
): Promise<Joint> {
  let best = await valueOf(members);
  for (let round = 0; round < roundsAtMost; round++) {
    const before = best;
    for (let slot = 0; slot < members.length; slot++) {
      for (const i of candidates) {
        const others = members.filter((_, at) => at !== slot);
        if (!others.every((other) => i !== other && areApart(pool[i], pool[other]))) continue;
        const tried = others.concat(i);
        const joint = await valueOf(tried);
        if (isMore(joint.score, best.score)) {
          best = joint;
          members = [...others.slice(0, slot), i, ...others.slice(slot)];
        }
      }
    }
    if (best === before) break;
  }
  return best;
}

/** Makes basins smaller that have more room than their share of the water and the size factors ask for. */
function fitted(searched: SearchedLot, joint: Joint, mostM3: number, weights: ScoreWeights): Joint {
  const smaller = joint.basins.map((basin, i) => {
    const { wantedM2, inflowM3, fromOverflowM3 } = joint.portions[i];
    const filled = Math.min(1, (inflowM3 + fromOverflowM3) / basin.scored.bowlM3);
    const areaM2 = searched.bounded(Math.max(wantedM2, filled * basin.areaM2));
    if (areaM2 > 0.95 * basin.areaM2) return basin;
    const found = searched.sizeAt(basin.at, basin.outline, areaM2);
    return found.fits ? found : basin;
  });
  return judge(searched, smaller, mostM3, weights);
}

function judge(
  searched: SearchedLot,
  basins: readonly Sized[],
  mostM3: number,
  weights: ScoreWeights,
): Joint {
  const shared = shareWater(searched, basins);
  const capturedM3 = shared.portions.reduce((sum, each) => sum + each.capturedM3, 0);
  const parts = jointParts(basins, capturedM3, mostM3);
  return { basins, ...shared, capturedM3, score: scoreOf(parts, weights) };
}

/** What is caught by all together; of the other parts the mean by area. */
function jointParts(basins: readonly Sized[], capturedM3: number, mostM3: number): ScoreParts {
  const each = basins.map((basin) => scoreParts(basin.scored, mostM3));
  const wholeM2 = basins.reduce((sum, { areaM2 }) => sum + areaM2, 0);
  const mean = (part: Exclude<keyof ScoreParts, 'slope' | 'downspout'>): number =>
    each.reduce((sum, parts, i) => sum + (parts[part] * basins[i].areaM2) / wholeM2, 0);
  const meanKnown = (part: 'slope' | 'downspout'): number | null => {
    let sum = 0;
    let weight = 0;
    each.forEach((parts, i) => {
      const value = parts[part];
      if (value === null) return;
      sum += value * basins[i].areaM2;
      weight += basins[i].areaM2;
    });
    return weight > 0 ? sum / weight : null;
  };
  return {
    caught: mostM3 > 0 ? Math.min(1, capturedM3 / mostM3) : 0,
    margin: mean('margin'),
    slope: meanKnown('slope'),
    digging: mean('digging'),
    downspout: meanKnown('downspout'),
    dryness: mean('dryness'),
    recommended: mean('recommended'),
  };
}
