/** What a measured rate is divided by for design. */
import type { Source } from '../source';
import { factorByRatio, factorTwoOrThree } from './sources';

export interface FactorChoice {
  readonly factor: number;
  /** When it is meant. */
  readonly when: string;
  readonly source: Source;
}

/** Published factors to choose from where nothing is known of the layers below the bottom. */
export const factorChoices: readonly FactorChoice[] = [
  {
    factor: 2,
    when: 'loam or sand, under 100 m² drained, a percolation or permeameter test',
    source: factorTwoOrThree,
  },
  { factor: 2.5, when: 'no slower layer within 1.5 m below', source: factorByRatio },
  {
    factor: 3,
    when: 'clay, over 100 m² drained, or only a double ring or an estimate from grain size',
    source: factorTwoOrThree,
  },
];

/**
 * The factor where the plan gives none: that of uniform soil by ratio. It lies between the 2 and 3 of the same
 * guide's later revision, whose 2 asks for a better test than a hole dug by hand.
 */
export const usualFactor = 2.5;

/** A layer that lies deeper below the bottom than this does not count, metres. Source: `factorByRatio`. */
export const layerCountsM = 1.5;

/** Factors by how many times faster the bottom takes water than the slowest layer below. Source: `factorByRatio`. */
export const ratioFactors: readonly { readonly upTo: number; readonly factor: number }[] = [
  { upTo: 1, factor: usualFactor },
  { upTo: 4, factor: 3.5 },
  { upTo: 8, factor: 4.5 },
  { upTo: 16, factor: 6.5 },
  { upTo: Infinity, factor: 8.5 },
];

/** The published factor for a ratio of rates, bottom over slowest layer within 1.5 m; `Infinity` for the greatest. */
export function factorOfRatio(ratio: number): number {
  // A ratio of rates that are equal may miss 1 by rounding.
  const row = ratioFactors.find(({ upTo }) => ratio <= upTo * (1 + 1e-9));
  return row?.factor ?? usualFactor;
}
