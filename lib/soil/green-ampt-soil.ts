import type { SoilSettings } from '../plan/soil-settings';
import type { DesignInfiltration } from './design-infiltration';
import type { GreenAmptSoil } from './green-ampt';
import { drainedSaturation, textureNames, textureParameters } from './texture-table';

/** What a basin's floor needs of a plan's soil. */
interface GroundOfFloor extends Pick<DesignInfiltration, 'rateMPerS'> {
  readonly soil: Pick<DesignInfiltration['soil'], 'texture'>;
}

/**
 * The floor of a basin as Green and Ampt have it: the design rate for the conductivity behind the front, and suction and
 * fillable pores from the texture. Without a texture there is neither, and the floor takes its design rate from the
 * first drop on: the safe side, as dry soil draws more.
 *
 * How wet the soil is at the start comes from the plan, else it has drained since the last rain
 * ({@link drainedSaturation}).
 *
 * @returns `null` while the rate is unknown; with notes for the reader otherwise.
 */
export function greenAmptSoil(
  { rateMPerS, soil: { texture } }: GroundOfFloor,
  settings: Pick<SoilSettings, 'initial_saturation'> | undefined,
): { readonly soil: GreenAmptSoil; readonly notes: readonly string[] } | null {
  if (rateMPerS === null) return null;
  if (texture === null) {
    return {
      soil: { conductivityMPerS: rateMPerS, suctionM: 0, deficit: 0 },
      notes: [
        'No texture is given, so the dry soil’s suction is left out and the floor takes a steady rate.',
      ],
    };
  }
  const { effectivePorosity, suctionM, borrowedFrom } = textureParameters(texture);
  const saturation = settings?.initial_saturation ?? drainedSaturation(texture);
  return {
    soil: {
      conductivityMPerS: rateMPerS,
      suctionM,
      deficit: (1 - saturation) * effectivePorosity,
    },
    notes:
      borrowedFrom === null
        ? []
        : [
            `There are no published figures for ${textureNames[texture]}; those of ${textureNames[borrowedFrom]} stand in.`,
          ],
  };
}
