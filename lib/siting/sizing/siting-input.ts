import type { FilledOutline, OutlineToFill } from '../../basin/filling/outline-filler';
import type { Grid } from '../../elevation/grid';
import type { LocalPlan } from '../../plan/local-plan';
import type { SoilSettings } from '../../plan/soil-settings';
import type { ClearLocate } from '../../setback/locate/locates';
import type { RuleSet } from '../../setback/rules/rule';
import type { Catchments } from '../water/catchments';
import type { ScoreWeights } from './score';
import type { SoilTexture } from '../../basin/form/size-factors';

export interface SitingInput {
  readonly plan: Pick<LocalPlan, 'of'>;
  /** The ground before any basin, without raised buildings (`groundWithoutBasins`). */
  readonly elevation: Grid;
  readonly ruleSet: RuleSet;
  /** ISO date on which locates must be current. */
  readonly today: string;
  /** Answers of locators who found no line. */
  readonly locates?: readonly ClearLocate[];
  readonly catchments: Catchments;
  readonly soil: SoilTexture;
  /** What else is known of the soil, for rules about it. */
  readonly soilSettings?: SoilSettings | undefined;
  /** Infiltration for design, metres a second; leave out when unknown. */
  readonly infiltrationMPerS?: number;
  /** Mean depth of the storm's run-off from the ground, metres. Guides the search. */
  readonly runOffDepthM: number;
  /** Depth that runs off roofs, metres. */
  readonly roofRunOffM: number;
  /** Run for one of rise of the bowl's sides. */
  readonly sideSlope?: number;
  /** Depth of standing water per cell of the elevation, metres: where water lies today. */
  readonly standingDepthM?: Float32Array;
  readonly weights?: Partial<ScoreWeights>;
  /** Fills and drains a basin over the storm; or, where that cannot be done, why not. */
  readonly simulate?: SiteSimulator | { readonly unknown: string };
  /** Share of the inflow that a simulated basin is sized to capture where the place allows it. */
  readonly wantedShare?: number;
  /** How many basins may share the water; 1 when not given. */
  readonly basins?: number;
  readonly minAreaM2?: number;
  readonly maxAreaM2?: number;
  readonly maxSites?: number;
  /** How far a roof's water may be led to a basin by a pipe or swale, metres; 0 for not at all. */
  readonly leadM?: number;
}

/** Fills a basin with the storm's water from ground and roofs, and lets it drain. */
export type SiteSimulator = (site: OutlineToFill) => FilledOutline;

/** What is taken where the input gives none. */
export const sitingDefaults = {
  /** 3:1, for homeowners (from memory). */
  sideSlope: 3,
  /** Half of the 100 ft2 that the homeowner manual calls typical: common practice, no source. */
  minAreaM2: 4.65,
  /** 300 ft2: larger gardens are hard to level and better split (University of Wisconsin-Extension, summary, seen). */
  maxAreaM2: 27.87,
  maxSites: 8,
  /** Our choice, no source. */
  wantedShare: 0.9,
  /** Common practice, no source. */
  leadM: 15,
} as const;
