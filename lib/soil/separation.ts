import type { FeatureOf } from '../plan/schema';
import type { SoilSettings } from '../plan/soil-settings';
import type { Source } from '../source';
import { formatLength } from '../units/format';
import { footM, type UnitSystem } from '../units/units';
import { minnesotaSeparation, newJerseySeparation } from './sources';

/** One published distance between a basin's bottom and what lies below it. */
export interface SeparationRule {
  readonly requiredM: number;
  readonly published: string;
  readonly source: Source;
}

export interface SoilSeparation {
  readonly below: 'water' | 'rock';
  /** Depth of it below the surface, metres: the shallowest that tests or the plan give; `null` when unknown. */
  readonly depthM: number | null;
  /** Soil between the basin's bottom and it, metres; negative when the bottom lies in it. */
  readonly actualM: number | null;
  readonly rules: readonly (SeparationRule & { readonly meets: boolean | null })[];
  readonly result: 'pass' | 'fail' | 'check';
}

const threeFeet: SeparationRule = {
  requiredM: 3 * footM,
  published: '3 ft to seasonally saturated soil and to bedrock',
  source: minnesotaSeparation,
};
const twoFeet: SeparationRule = {
  requiredM: 2 * footM,
  published: 'seasonal high water no closer than 2 ft below the garden’s depth',
  source: newJerseySeparation,
};
const rules = { water: [threeFeet, twoFeet], rock: [threeFeet] } as const;
/** A millimetre of slack, so that 0.914 m is read as the 3 ft it was rounded from. */
const slackM = 0.001;

/**
 * Seasonal high water and rock against the bottom of a basin. Passes when every published distance is kept, fails
 * when none is or the bottom lies in it, asks for a check in between and while the depth is unknown.
 *
 * @param bottomDepthM - the bottom of the dig below the surface, metres.
 */
export function soilSeparation(
  bottomDepthM: number,
  soil: Pick<SoilSettings, 'water_table_m' | 'rock_m'> | undefined,
  tests: readonly FeatureOf<'soil-test'>[],
): readonly SoilSeparation[] {
  return (['water', 'rock'] as const).map((below) => {
    const key = below === 'water' ? 'water_table_m' : 'rock_m';
    const fromTests = tests.flatMap(({ properties }) => properties[key] ?? []);
    // The plan's own figure stands in where no test gives one.
    const found = fromTests.length > 0 ? Math.min(...fromTests) : soil?.[key];
    if (found === undefined) {
      return {
        below,
        depthM: null,
        actualM: null,
        rules: rules[below].map((rule) => ({ ...rule, meets: null })),
        result: 'check',
      };
    }
    const actualM = found - bottomDepthM;
    const judged = rules[below].map((rule) => ({
      ...rule,
      meets: actualM >= rule.requiredM - slackM,
    }));
    const met = judged.filter(({ meets }) => meets).length;
    return {
      below,
      depthM: found,
      actualM,
      rules: judged,
      result: met === judged.length ? 'pass' : met === 0 ? 'fail' : 'check',
    };
  });
}

/** A separation as one sentence. */
export function separationText(
  { below, depthM, actualM, rules: judged, result }: SoilSeparation,
  units: UnitSystem,
): string {
  const what = below === 'water' ? 'seasonal high water' : 'rock';
  if (actualM === null || depthM === null) {
    return `Depth of ${what} is not known: dig a look-hole of 3 ft (0.9 m) near the place${below === 'water' ? ' in the wettest season' : ''}, and wait whether ${below === 'water' ? 'water seeps in' : 'the spade goes on'}.`;
  }
  if (actualM < 0) {
    return `The bottom would lie ${formatLength(-actualM, units)} into ${below === 'water' ? 'the seasonal high water' : 'the rock'}: make it shallower, or choose another place.`;
  }
  const at = `${formatLength(actualM, units)} from the bottom to ${what}`;
  if (result === 'pass') return `${at}: enough by every rule here.`;
  const missed = judged.filter(({ meets }) => meets === false);
  const kept = judged.filter(({ meets }) => meets === true);
  const asks = missed
    .map(
      ({ requiredM, source }) =>
        `${source.publisher} asks for ${formatLength(requiredM, units, 0.02)}`,
    )
    .join(', ');
  return `${at}; ${asks}${kept.length > 0 ? '; the local rule decides' : ': make it shallower, or choose another place'}.`;
}
