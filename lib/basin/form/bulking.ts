import type { EarthSettings } from '../../plan/earth-settings';
import type { LayerMaterial } from '../../plan/basin-properties';
import type { UsdaTexture } from '../../plan/soil-settings';
import type { PlanSoil } from '../../soil/plan-soil';
import type { BroadTexture } from '../../soil/texture-table';
import { practice, type Source } from '../../source';

/** How a soil's volume changes when it is dug and when it is trodden in again. */
export interface Bulking {
  readonly soil: string;
  /** Loose volume for one in place, less 1. */
  readonly swell: number;
  /** Compacted volume for one in place. */
  readonly compacted: number;
  readonly swellPublished: string;
  /** `null` where the plan gives it. */
  readonly swellSource: Source | null;
  readonly compactedPublished: string;
  readonly compactedSource: Source | null;
}

const swellTable: Source = {
  title: 'Construction Planning, Equipment, and Methods, table 4-1, swell by class of earth',
  publisher:
    'McGraw-Hill, as quoted in the mailing list of a structural engineers’ association, 1998',
  year: null,
  mark: 'seen in a secondary copy',
};
const handbook: Source = {
  title: 'Earthwork bulking, compacted over bank volume',
  publisher: 'InfraLens, an Indian civil-engineering handbook on the web',
  year: null,
  mark: 'seen',
};

/** Of each published range one figure is taken: our choice, no source. */
const sandy: Bulking = {
  soil: 'sandy soil',
  swell: 0.11,
  compacted: 0.9,
  swellPublished: '5 to 15 % (clean sand; 11 % is taken)',
  swellSource: swellTable,
  compactedPublished: '0.88 to 0.92',
  compactedSource: handbook,
};
const loamy: Bulking = {
  soil: 'common earth',
  swell: 0.25,
  compacted: 0.85,
  swellPublished: '20 to 45 % (common earth; loamy soil 10 to 35 %; 25 % is taken)',
  swellSource: swellTable,
  compactedPublished: '0.82 to 0.88',
  compactedSource: handbook,
};
const silty: Bulking = {
  ...loamy,
  soil: 'silt',
  swell: 0.35,
  swellPublished: '20 to 45 % (common earth; 35 % is taken)',
};
const clayey: Bulking = {
  soil: 'clay',
  swell: 0.4,
  compacted: 0.81,
  swellPublished: '30 to 60 % (clay; 40 % is taken)',
  swellSource: swellTable,
  compactedPublished: '0.78 to 0.85',
  compactedSource: handbook,
};

const byTexture: Readonly<Record<UsdaTexture, Bulking>> = {
  sand: sandy,
  'loamy-sand': sandy,
  'sandy-loam': loamy,
  loam: loamy,
  'silt-loam': silty,
  silt: silty,
  'sandy-clay-loam': loamy,
  'clay-loam': clayey,
  'silty-clay-loam': clayey,
  'sandy-clay': clayey,
  'silty-clay': clayey,
  clay: clayey,
};

const byBroad: Readonly<Record<BroadTexture, Bulking>> = {
  sandy,
  silty,
  clayey,
};

/**
 * Bulking of the soil that is dug, by its texture or else by feel; common earth while neither is known. What the plan
 * gives counts before the tables.
 */
export function bulkingOf(
  soil: Pick<PlanSoil, 'texture' | 'broad'>,
  given: EarthSettings = {},
): Bulking {
  const bulking = tableBulking(soil);
  const { swell, compacted } = given;
  if (swell === undefined && compacted === undefined) return bulking;
  return {
    ...bulking,
    ...(swell === undefined
      ? {}
      : { swell, swellPublished: `${percent(swell)}, as the plan gives it`, swellSource: null }),
    ...(compacted === undefined
      ? {}
      : {
          compacted,
          compactedPublished: `${compacted}, as the plan gives it,`,
          compactedSource: null,
        }),
  };
}

function tableBulking({ texture, broad }: Pick<PlanSoil, 'texture' | 'broad'>): Bulking {
  if (texture !== null) return byTexture[texture];
  return broad === null ? loamy : byBroad[broad];
}

function percent(share: number): string {
  return `${Math.round(share * 1000) / 10} %`;
}

/** What is ordered over the volume in place, as it settles or packs. */
export interface OrderMore {
  readonly share: number;
  readonly published: string;
  /** `null` where the plan gives it. */
  readonly source: Source | null;
}

/** Fresh soil settles after it is watered in. */
const settling: OrderMore = {
  share: 0.15,
  published: '10 to 15 % of fresh soil mix',
  source: {
    title: 'Settling of fresh soil mix',
    publisher: 'none',
    year: null,
    mark: 'from memory',
  },
};
/** Sand packs by what it swelled. */
const sandPacking: OrderMore = {
  share: sandy.swell,
  published: sandy.swellPublished,
  source: sandy.swellSource,
};
/** Mulch and gravel are laid as they come; a little is lost. */
export const wastage: OrderMore = { share: 0.05, published: '5 % over', source: practice };

/** How much more of a material is ordered than lies in place. */
const tableMore: Readonly<Record<LayerMaterial, OrderMore>> = {
  mulch: wastage,
  'planting-mix': settling,
  compost: settling,
  topsoil: settling,
  'coarse-sand': sandPacking,
  gravel: wastage,
};

/** How much more is ordered of each material, by the plan where it says. */
export function orderMoreOf(given: EarthSettings = {}): Readonly<Record<LayerMaterial, OrderMore>> {
  const more = { ...tableMore };
  for (const material of Object.keys(more) as LayerMaterial[]) {
    const share = given.order_more?.[material];
    if (share === undefined) continue;
    more[material] = { share, published: `${percent(share)}, as the plan gives it`, source: null };
  }
  return more;
}
