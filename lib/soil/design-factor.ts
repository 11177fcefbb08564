/** What a measured rate is divided by for design. */
import type { Source } from '../source';
import { factorByRatio, factorTwoOrThree } from './sources';

export interface FactorChoice {
  readonly factor: number;
  /** When it is meant. */
  readonly when: string;
  readonly source: Source;
}

/**
 * Published factors. By ratio: how many times faster the soil at the bottom takes water than the slowest layer
 * within 1.5 m below.
 */
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
  { factor: 3.5, when: 'a layer 1.1 to 4 times slower', source: factorByRatio },
  { factor: 4.5, when: 'a layer 4.1 to 8 times slower', source: factorByRatio },
  { factor: 6.5, when: 'a layer 8.1 to 16 times slower', source: factorByRatio },
  { factor: 8.5, when: 'a layer over 16 times slower', source: factorByRatio },
];

/**
 * The factor where the plan gives none: that of uniform soil by ratio. It lies between the 2 and 3 of the same
 * guide's later revision, whose 2 asks for a better test than a hole dug by hand.
 */
export const usualFactor = 2.5;
