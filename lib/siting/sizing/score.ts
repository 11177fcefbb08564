import { ourChoice } from '../../source';
import { steepestRatio } from '../../basin/form/size-factors';

/** The parts of a score, each from 0 (worst) to 1; `null` when it does not apply. */
export interface ScoreParts {
  /** Run-off held here, as a share of the most that any place on the lot holds. */
  readonly caught: number;
  /** Least margin to a distance that must be kept; 3 m and more is 1. */
  readonly margin: number;
  /** 1 on level ground, 0 at the steepest that is allowed (12 %); `null` without elevation. */
  readonly slope: number | null;
  /** Volume of the bowl over the volume to dig for it: less on sloping and uneven ground. */
  readonly digging: number;
  /** 1 at the nearest downspout that feeds it, 0 from 30 m on or when none does; `null` on a lot without roofs. */
  readonly downspout: number | null;
  /** 1 where no water stands today; less, on slow soil most, the more of the place stands wet. */
  readonly dryness: number;
  /** 1 when every rule that should be met is; a half with one broken, a third with two. */
  readonly recommended: number;
}

export type ScorePart = keyof ScoreParts;

/** How much each part counts, from 0 (not at all) to `heaviestWeight`. */
export type ScoreWeights = Readonly<Record<ScorePart, number>>;

/** Where the usual weights come from. */
export const defaultWeightsSource = ourChoice;
/** Weights used where none are given. Source: `defaultWeightsSource`. */
export const defaultWeights: ScoreWeights = {
  caught: 4,
  margin: 1,
  slope: 1,
  digging: 1,
  downspout: 1,
  dryness: 1,
  recommended: 1,
};

/** Every part's name, the one that counts most by default first. */
export const scorePartNames = Object.keys(defaultWeights) as ScorePart[];
export const heaviestWeight = 10;

/** Weights with what had to be assumed about them. */
export interface ReadWeights {
  readonly weights: ScoreWeights;
  /** A sentence for each name that is no part of the score, and for weights that leave nothing to rank by. */
  readonly notes: readonly string[];
}

/** The weights that a plan gives, by the name of the part; a part without one keeps its default. */
export function readWeights(given: Readonly<Record<string, number>> = {}): ReadWeights {
  const notes: string[] = [];
  const weights: Record<ScorePart, number> = { ...defaultWeights };
  for (const [name, weight] of Object.entries(given)) {
    if (isScorePart(name)) weights[name] = Math.min(heaviestWeight, Math.max(0, weight));
    else notes.push(unknownPart(name));
  }
  if (scorePartNames.every((name) => weights[name] === 0)) {
    notes.push('Every part of the score weighs nothing: the usual weights are taken.');
    return { weights: defaultWeights, notes };
  }
  return { weights, notes };
}

export function isScorePart(name: string): name is ScorePart {
  return Object.hasOwn(defaultWeights, name);
}

function unknownPart(name: string): string {
  return `'${name}' is no part of a site's score and its weight is left out; the parts are ${scorePartNames.join(', ')}.`;
}

/** A margin of this much is as good as any larger one, metres. Our choice, no source. */
const goodMarginM = 3;
/** From here on a downspout is no nearer than any other, metres. Our choice, no source. */
const farDownspoutM = 30;
/** How much standing water speaks against a place, by soil: slow soil dries last. Our choice, no source. */
const wetnessWeight = { sandy: 0.3, silty: 0.7, clayey: 1 } as const;

/** What a score is made from. */
export interface Scored {
  readonly capturedM3: number;
  readonly marginM: number;
  readonly slopeRatio: number | null;
  /** What the bowl holds up to its sill. */
  readonly bowlM3: number;
  /** The dig to make it level without a berm, here and were the ground level. */
  readonly cutM3: number;
  readonly levelGroundCutM3: number;
  /** Distance of the nearest roof outlet that feeds the place, `Infinity` for none, `null` on a lot without roofs. */
  readonly downspoutM: number | null;
  /** Share of the place that stands wet. */
  readonly wetShare: number;
  readonly soil: keyof typeof wetnessWeight;
  readonly shouldBroken: number;
}

/** The parts of a score, given the most that any place holds. */
export function scoreParts(scored: Scored, reachableM3: number): ScoreParts {
  return {
    caught: reachableM3 > 0 ? unit(scored.capturedM3 / reachableM3) : 0,
    margin: unit(scored.marginM / goodMarginM),
    slope: scored.slopeRatio === null ? null : unit(1 - scored.slopeRatio / steepestRatio),
    digging: scored.cutM3 > 0 ? unit(scored.levelGroundCutM3 / scored.cutM3) : 1,
    downspout: scored.downspoutM === null ? null : unit(1 - scored.downspoutM / farDownspoutM),
    dryness: 1 - scored.wetShare * wetnessWeight[scored.soil],
    recommended: 1 / (1 + scored.shouldBroken),
  };
}

/** The weighted mean of the parts that apply, 0-1. */
export function scoreOf(parts: ScoreParts, weights: ScoreWeights): number {
  let sum = 0;
  let weight = 0;
  for (const name of scorePartNames) {
    const part = parts[name];
    if (part === null) continue;
    sum += weights[name] * part;
    weight += weights[name];
  }
  return weight > 0 ? sum / weight : 0;
}

function unit(value: number): number {
  return value < 0 ? 0 : value > 1 ? 1 : value;
}
