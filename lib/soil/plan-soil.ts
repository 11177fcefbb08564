import type { FeatureOf } from '../plan/schema';
import type { SoilSettings, UsdaTexture } from '../plan/soil-settings';
import type { SoilGroup } from '../storm/curve-numbers';
import { designRateTable, tableRateMPerS } from './design-rates';
import { broadTexture, textureNames, type BroadTexture } from './texture-table';

/** What kind of soil a plan has: one soil, that suction, swell, size factors and run-off all go by. */
export interface PlanSoil {
  /** USDA texture, where the plan or a test says it. */
  readonly texture: UsdaTexture | null;
  /** Which of the three soils of the size factors it is; `null` while nothing is known. */
  readonly broad: BroadTexture | null;
  /** Hydrologic group, as given; else the less pervious of the texture's and {@link defaultSoilGroup}. */
  readonly group: SoilGroup;
  /** Where the plan says two things of its texture. */
  readonly notes: readonly string[];
  /** That the group had to be assumed, or does not fit the texture. */
  readonly groupNotes: readonly string[];
}

/**
 * Hydrologic groups by texture, for soil that was disturbed and is not compacted.
 * Source: TR-55, appendix A (seen). Silt has no row and goes with silt loam.
 */
const groupOf: Readonly<Record<UsdaTexture, SoilGroup>> = {
  sand: 'A',
  'loamy-sand': 'A',
  'sandy-loam': 'A',
  loam: 'B',
  'silt-loam': 'B',
  silt: 'B',
  'sandy-clay-loam': 'C',
  'clay-loam': 'D',
  'silty-clay-loam': 'D',
  'sandy-clay': 'D',
  'silty-clay': 'D',
  clay: 'D',
};
/** What is taken where the plan does not say: the less pervious middle. */
export const defaultSoilGroup: SoilGroup = 'C';
/** The group with the most run-off among the textures of each broad soil. */
const groupOfBroad: Readonly<Record<BroadTexture, SoilGroup>> = {
  sandy: 'A',
  silty: 'B',
  clayey: 'D',
};

/**
 * The soil of a plan. A texture named for the whole plan counts before those that tests found, of which the slowest is
 * taken; a texture before the soil by feel; a given group before that of the texture.
 */
export function planSoil(
  soil: SoilSettings | undefined,
  tests: readonly FeatureOf<'soil-test'>[],
): PlanSoil {
  const texture = soil?.usda_texture ?? slowestTexture(tests);
  const felt = soil?.texture ?? null;
  const broad = texture === null ? felt : broadTexture(texture);
  const byTexture =
    texture !== null ? groupOf[texture] : broad === null ? null : groupOfBroad[broad];
  const group = soil?.group ?? assumedGroup(byTexture);
  const said = texture === null ? `${felt} soil` : textureNames[texture];
  return {
    texture,
    broad,
    group,
    notes:
      texture === null || felt === null || felt === broad
        ? []
        : [
            `By feel the soil is ${felt}, but its texture is ${textureNames[texture]}: the texture counts. Correct the one that is wrong.`,
          ],
    groupNotes: groupNotes(soil?.group, group, byTexture, said),
  };
}

/** What is to be said of the group: that it is assumed, or that it does not fit the texture. */
function groupNotes(
  given: SoilGroup | undefined,
  group: SoilGroup,
  byTexture: SoilGroup | null,
  said: string,
): string[] {
  if (given === undefined) {
    return [
      `No hydrologic soil group is given: ${group} is assumed${byTexture === null || byTexture === group ? '' : `; for ${said} that is not compacted it is ${byTexture} (TR-55, appendix A)`}. A soil survey or test tells.`,
    ];
  }
  if (byTexture === null || group >= byTexture) return [];
  return [
    `Soil group ${group} takes more water than ${said} usually does (group ${byTexture} by TR-55, appendix A): check the one or the other.`,
  ];
}

/** A texture alone does not tell whether the ground is compacted, so it never makes a group more pervious than usual. */
function assumedGroup(byTexture: SoilGroup | null): SoilGroup {
  return byTexture !== null && byTexture > defaultSoilGroup ? byTexture : defaultSoilGroup;
}

/** The slowest of the textures that tests found at the depth of a basin's bottom. */
function slowestTexture(tests: readonly FeatureOf<'soil-test'>[]): UsdaTexture | null {
  const found = tests.flatMap(({ properties: { level, texture } }) =>
    level === 'below' ? [] : (texture ?? []),
  );
  return found.reduce<UsdaTexture | null>(
    (slowest, each) =>
      slowest === null ||
      tableRateMPerS(designRateTable, each) < tableRateMPerS(designRateTable, slowest)
        ? each
        : slowest,
    null,
  );
}
