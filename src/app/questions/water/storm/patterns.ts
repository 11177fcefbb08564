import type { RainPattern } from '../../../../../lib/plan/storm-settings';
import type { Source } from '../../../../../lib/source';
import { nrcsSources } from '../../../../../lib/storm/nrcs-curves';
import { blockMethod } from '../../../../../lib/storm/sources';

/** One way in which the rain of a storm may be spread, and where it comes from. */
export interface PatternChoice {
  readonly id: RainPattern;
  readonly name: string;
  /** What it does, in words that lead its source. */
  readonly published: string;
  /** What the plan must have first. */
  readonly needs?: { readonly key: 'depth_table' | 'measured'; readonly what: string };
  /** Null where the choice has no source. */
  readonly source: Source | null;
}

/** The patterns in the order in which they are offered. */
export const patterns: Readonly<Record<RainPattern, PatternChoice>> = {
  uniform: {
    id: 'uniform',
    name: 'even',
    published: 'The same rain all the time, which no storm has: our choice, no source',
    source: null,
  },
  'nrcs-type-1': nrcs('nrcs-type-1', 'NRCS type I', 'Alaska, Hawaii, coastal California'),
  'nrcs-type-1a': nrcs('nrcs-type-1a', 'NRCS type IA', 'coastal Oregon and Washington'),
  'nrcs-type-2': nrcs('nrcs-type-2', 'NRCS type II', 'most of the United States inland'),
  'nrcs-type-3': nrcs('nrcs-type-3', 'NRCS type III', 'Gulf and Atlantic coasts'),
  nested: {
    id: 'nested',
    name: 'nested blocks',
    published: 'Every duration brings the depth of the table, the hardest rain in the middle',
    needs: { key: 'depth_table', what: 'a table below' },
    source: blockMethod,
  },
  measured: {
    id: 'measured',
    name: 'as measured',
    published: 'The rain of one storm as it fell, brought to the depth above',
    needs: { key: 'measured', what: 'a storm below' },
    source: null,
  },
};

function nrcs(id: keyof typeof nrcsSources, name: string, where: string): PatternChoice {
  return {
    id,
    name,
    published: `A share of the day's rain for each tenth of an hour. Meant for ${where} (from memory)`,
    source: nrcsSources[id],
  };
}
