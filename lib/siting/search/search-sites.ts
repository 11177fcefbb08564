import { throwIfCancelled, type Progress } from '../../errors';
import { candidateSite } from '../sizing/candidate-site';
import { fitSite } from './fit-site';
import { jointAnswer } from '../joint/joint-answer';
import { chooseJointly } from '../joint/choose-jointly';
import { Pace } from './pace';
import type { Tried } from './pattern-search';
import { areApart, bestApart, rankSites } from '../sizing/rank-sites';
import { Scan, type Glimpse } from './scan';
import { readWeights, scoreOf, scoreParts, type ScoreWeights } from '../sizing/score';
import { SearchedLot } from '../sizing/searched-lot';
import type { Refused, Sized } from '../sizing/sized-place';
import { findSeeds, seedsAtMost } from './find-seeds';
import {
  poured,
  simulateSite,
  siteToFill,
  sizeBySimulation,
  type Simulated,
} from '../sizing/simulated-size';
import { sitingDefaults, type SitingInput } from '../sizing/siting-input';
import type { CandidateSite, JointSites, SitingResult } from '../sizing/siting-result';
import { refusal, sitingNotes } from './siting-notes';
import { squeezeIn } from './squeeze-in';
import { waysOut } from './ways-out';
import { isMore } from '../rounding';

export interface SearchOptions {
  readonly signal?: AbortSignal;
  readonly onProgress?: Progress;
  /** The best sites so far, ranked, each time that they may have changed. */
  readonly onSites?: (sites: readonly CandidateSite[]) => void;
}

/** Places sized and checked in full. */
const sizedAtMost = 32;
/** When moving a site about: rounds, and other outlines tried in each. */
const roundsAtMost = 3;
const outlinesTried = 3;
const moves = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;
/** Of the best sites so many are then moved, turned and resized freely. */
const fittedAtMost = 3;
/** Places too small to stand alone that are looked at when several basins share the water. */
const smallAtMost = 16;

/**
 * Searches the own lots for places for a basin and ranks them.
 *
 * Every allowed cell (on large lots, every few) is looked at with every outline; the best places, kept apart from one
 * another, are then sized for what they catch, checked by every rule on their final rim, and moved about for the better;
 * the best three are moved, turned and resized freely until no small change is better. Only rules that must be met
 * refuse a place; what cannot be judged stays, and shows in its findings.
 *
 * @returns up to `maxSites` sites; `refused` says for each rule how much of the lot it refuses; `notes` says why there
 *   are no sites, when there are none, and `ways_out` what would change that. Cells coarser than 5 m are refused with a
 *   note, coarser than 2 m warned of.
 * @throws {Cancelled}
 * Cost: cells of the lot times outlines times 64, then some 500 calls of `catchAt`; deterministic.
 */
export async function searchSites(
  input: SitingInput,
  options: SearchOptions = {},
): Promise<SitingResult> {
  const early = refusal(input);
  if (early !== undefined) return { ...emptyResult, notes: [early] };
  return new Run(input, options).result();
}

/** An answer without a site, before anything has been looked at. */
export const emptyResult: SitingResult = {
  sites: [],
  candidates: [],
  joint: null,
  ways_out: [],
  refused: [],
  lot_m2: 0,
  allowed_m2: 0,
  reachable_m3: 0,
  notes: [],
};

class Run {
  readonly #searched: SearchedLot;
  readonly #scan: Scan;
  readonly #weights: ScoreWeights;
  readonly #pace: Pace;
  readonly #broken = new Map<string, number>();
  readonly #gains = new Map<Sized, number>();
  readonly #simulated = new Map<Sized, Simulated>();
  readonly #input: SitingInput;
  readonly #options: SearchOptions;

  constructor(input: SitingInput, options: SearchOptions) {
    this.#input = input;
    this.#options = options;
    throwIfCancelled(options.signal);
    options.onProgress?.(0, 'Laying the rules over the lot');
    this.#pace = new Pace(options.signal, options.onProgress);
    this.#searched = new SearchedLot(input);
    this.#scan = new Scan(this.#searched);
    this.#weights = readWeights(input.weights).weights;
  }

  async result(): Promise<SitingResult> {
    const sized = await this.#search();
    const candidates = this.#candidates(sized);
    const sites = rankSites(candidates, this.#weights, this.#maxSites);
    const { refused, lotM2, allowedM2 } = this.#searched.forbidden;
    const pause = (): Promise<void> => this.#pace.at(0.97, 'Asking what would change it');
    const ways_out = sites.length === 0 ? await waysOut(this.#searched, pause) : [];
    const joint = await this.#joint(sized);
    return {
      sites,
      candidates,
      joint,
      ways_out,
      refused,
      lot_m2: lotM2,
      allowed_m2: allowedM2,
      reachable_m3: reachable(sized),
      notes: sitingNotes(this.#searched, sites, joint, this.#broken),
    };
  }

  get #maxSites(): number {
    return this.#input.maxSites ?? sitingDefaults.maxSites;
  }

  async #search(): Promise<Sized[]> {
    let sized = await this.#sizeSeeds({ tell: this.#tell });
    // A garden that is small for what arrives is better than none.
    if (sized.length === 0) sized = await this.#sizeSeeds({ partial: true, tell: this.#tell });
    if (sized.length === 0) sized = await this.#squeezed();
    return this.#fit(await this.#fill(await this.#improve(sized)));
  }

  async #sizeSeeds({ partial = false, atMost = sizedAtMost, tell }: SizeSeeds): Promise<Sized[]> {
    const seeds = await findSeeds(this.#searched, this.#scan, this.#pace, partial);
    const sized: Sized[] = [];
    for (const [i, seed] of seeds.entries()) {
      if (sized.length >= atMost || i >= seedsAtMost) break;
      const found = this.#size(seed, partial);
      if (found !== null) {
        sized.push(found);
        tell?.(sized);
      }
      await this.#pace.at(0.35 + 0.2 * (i / Math.min(seeds.length, atMost)), 'Sizing and checking');
    }
    return sized;
  }

  /** Where the usual places and directions have no room: wherever there is any. */
  async #squeezed(): Promise<Sized[]> {
    const sized: Sized[] = [];
    for (const place of await squeezeIn(this.#searched, this.#pace)) {
      const found = this.#size(place, true);
      if (found !== null) sized.push(found);
      if (sized.length >= sizedAtMost) break;
      await this.#pace.at(0.5, 'Sizing and checking');
    }
    this.#tell(sized);
    return sized;
  }

  #size({ at, outline }: Pick<Glimpse, 'at' | 'outline'>, partial = false): Sized | null {
    return this.#lawful(this.#searched.size(at, outline, partial));
  }

  /** A place that breaks no binding rule; those that one breaks are counted. */
  #lawful(found: Sized | Refused): Sized | null {
    if (found.fits) return found;
    for (const rule of found.broken) this.#broken.set(rule, (this.#broken.get(rule) ?? 0) + 1);
    return null;
  }

  /** Moves the leading sites about by a cell and tries other outlines there, by full sizing and checking. */
  async #improve(sized: readonly Sized[]): Promise<Sized[]> {
    const most = reachable(sized);
    const leaders = this.#leaders(sized, most);
    const better: Sized[] = [];
    const stepM = this.#searched.forbidden.mesh.cellM;
    for (const [i, leader] of leaders.entries()) {
      let best = leader;
      for (let round = 0; round < roundsAtMost; round++) {
        const from = best;
        const tries = [
          ...this.#scan
            .outlinesAt(from.at, from.areaM2, most)
            .filter((outline) => outline !== from.outline)
            .slice(0, outlinesTried)
            .map((outline) => ({ at: from.at, outline })),
          ...moves.map(([dx, dy]) => ({
            at: [from.at[0] + dx * stepM, from.at[1] + dy * stepM] as const,
            outline: from.outline,
          })),
        ];
        for (const each of tries) {
          const found = this.#size(each);
          if (found !== null && isMore(this.#scoreOf(found, most), this.#scoreOf(best, most)))
            best = found;
        }
        await this.#pace.at(0.55 + (0.1 * i) / leaders.length, 'Moving the best sites about');
        if (best === from) break;
      }
      better.push(best);
      this.#tell([...better, ...leaders.slice(i + 1)]);
    }
    return [...better, ...sized.filter((each) => !leaders.includes(each))];
  }

  /** Sends the storm through the places, and gives those that lead the size that it asks for. */
  async #fill(sized: readonly Sized[]): Promise<Sized[]> {
    const { simulate } = this.#input;
    if (typeof simulate !== 'function') return [...sized];
    const leaders = this.#leaders(sized, reachable(sized));
    const rest = sized.filter((place) => !leaders.includes(place));
    const standing = [...leaders];
    const now: Sized[] = [];
    for (const [i, place] of [...leaders, ...rest].entries()) {
      const found =
        i < leaders.length
          ? sizeBySimulation(this.#searched, place, simulate, (resized) =>
              standing.every((other) => other === place || areApart(resized, other)),
            )
          : { sized: place, simulated: simulateSite(this.#searched, place, simulate) };
      const kept = this.#lawful(poured(this.#searched, found.sized, found.simulated.filled));
      if (kept !== null) {
        now.push(kept);
        this.#simulated.set(kept, found.simulated);
      }
      if (i < leaders.length) standing[i] = kept ?? place;
      await this.#pace.at(0.65 + (0.15 * i) / sized.length, 'Filling and draining');
    }
    return now;
  }

  /** Moves, turns, stretches and resizes the best few freely, by the true score and every rule. */
  async #fit(sized: readonly Sized[]): Promise<Sized[]> {
    const most = reachable(sized);
    const leaders = this.#leaders(sized, most);
    const now = [...sized];
    for (const [i, leader] of leaders.slice(0, fittedAtMost).entries()) {
      const before = this.#scoreOf(leader, most);
      const { what: best, value } = await fitSite(this.#searched, leader, before, {
        others: leaders.filter((each) => each !== leader),
        atMostM2: this.#isEnough(leader) ? leader.areaM2 : this.#searched.maxAreaM2,
        judge: (found) => this.#judged(found, most),
        pause: () => this.#pace.at(0.8 + (0.15 * i) / fittedAtMost, 'Fitting the best sites'),
      });
      if (best === leader) continue;
      this.#gains.set(best, value - before);
      const { simulate } = this.#input;
      if (typeof simulate === 'function') {
        this.#simulated.set(best, simulateSite(this.#searched, best, simulate));
      }
      leaders[i] = best;
      now[now.indexOf(leader)] = best;
      this.#tell(now);
    }
    return now;
  }

  /** Whether a place captures the share that is wanted. */
  #isEnough(place: Sized): boolean {
    const simulated = this.#simulated.get(place);
    return simulated !== undefined && simulated.filled.capturedFraction >= simulated.wantedShare;
  }

  #judged(found: Sized, mostM3: number): Tried<Sized> | null {
    const { simulate } = this.#input;
    const place =
      typeof simulate === 'function'
        ? poured(this.#searched, found, simulate(siteToFill(this.#searched, found)))
        : found;
    return place.fits ? { value: this.#scoreOf(place, mostM3), what: place } : null;
  }

  /** Several basins that share the water, when asked for. */
  async #joint(sized: readonly Sized[]): Promise<JointSites | null> {
    const count = this.#input.basins ?? 1;
    if (count < 2) return null;
    const pause = (): Promise<void> => this.#pace.at(0.97, 'Sharing the water among basins');
    const small = await this.#sizeSeeds({ partial: true, atMost: smallAtMost });
    const isNew = ({ at }: Sized): boolean =>
      sized.every((each) => Math.hypot(each.at[0] - at[0], each.at[1] - at[1]) > 1);
    const pool = [...sized, ...small.filter(isNew)];
    const found = await chooseJointly(this.#searched, pool, count, this.#weights, pause);
    if (found === null) return null;
    const most = reachable(sized);
    return jointAnswer(this.#searched, found, this.#weights, most, most);
  }

  #scoreOf(sized: Sized, reachableM3: number): number {
    return scoreOf(scoreParts(sized.scored, reachableM3), this.#weights);
  }

  /** The best places that lie apart from one another, best first. */
  #leaders(sized: readonly Sized[], reachableM3: number): Sized[] {
    const scores = sized.map((each) => this.#scoreOf(each, reachableM3));
    return bestApart(sized, scores, this.#maxSites).map((i) => sized[i]);
  }

  #candidates(sized: readonly Sized[]): CandidateSite[] {
    const reachableM3 = reachable(sized);
    return sized.map((each) =>
      candidateSite(each, {
        input: this.#input,
        reachableM3,
        weights: this.#weights,
        simulated: this.#simulated.get(each) ?? null,
        gain: this.#gains.get(each) ?? 0,
      }),
    );
  }

  readonly #tell = (sized: readonly Sized[]): void => {
    this.#options.onSites?.(rankSites(this.#candidates(sized), this.#weights, this.#maxSites));
  };
}

interface SizeSeeds {
  readonly partial?: boolean;
  readonly atMost?: number;
  readonly tell?: ((sized: readonly Sized[]) => void) | undefined;
}

/** The most that any place captures of the storm, m3. */
function reachable(sized: readonly Sized[]): number {
  return Math.max(0, ...sized.map((each) => each.scored.capturedM3));
}
