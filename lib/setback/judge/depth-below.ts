import type { LocalFeature } from '../../plan/local-plan';
import type { Below } from '../rules/rule';
import type { SetbackInput } from './setback-input';

/** How deep something lies in the ground, as far as the plan says. */
export interface DepthBelow {
  /** The shallowest depth on record, metres below the surface; `undefined` where none is. */
  readonly depthM: number | undefined;
  /** The soil test that met it; `undefined` where the settings say so. */
  readonly test: LocalFeature<'soil-test'> | undefined;
  /** The deepest hole among the tests in which it is not noted, metres. */
  readonly lookedDownToM: number;
}

const properties = {
  'water-table': 'water_table_m',
  rock: 'rock_m',
  'limiting-layer': 'limiting_layer_m',
} as const satisfies Record<Below, string>;

/**
 * The depth of water, rock or a tight layer from the plan's soil tests, the shallowest of them all; from its soil
 * settings where no test met any. Water moves with the seasons: what a test met is taken as it is.
 */
export function depthBelow({ plan, soil }: SetbackInput, what: Below): DepthBelow {
  const name = properties[what];
  let depthM: number | undefined;
  let test: LocalFeature<'soil-test'> | undefined;
  let lookedDownToM = 0;
  for (const each of plan.of['soil-test']) {
    const met = each.feature.properties[name];
    if (met === undefined) {
      lookedDownToM = Math.max(lookedDownToM, each.feature.properties.hole_depth_m ?? 0);
    } else if (depthM === undefined || met < depthM) {
      [depthM, test] = [met, each];
    }
  }
  if (depthM === undefined && name !== 'limiting_layer_m') depthM = soil?.[name];
  return { depthM, test, lookedDownToM };
}
