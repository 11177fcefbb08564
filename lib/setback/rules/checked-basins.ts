import type { DesignedReach } from '../../basin/design/design-result';
import type { XY } from '../../frame/frame';
import { basinDefaults } from '../../ground/ground';
import { bermTopM, freeboardM } from '../../ground/basin-form';
import type { Ring } from '../../frame/shapes';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';

/** A basin as the rules see it. What is not given is not known: rules that need it answer `check`. */
export interface CheckedBasin {
  readonly id: string;
  readonly name?: string | undefined;
  readonly rim: Ring;
  /** How far the berm reaches beyond the rim, for rules that measure from its foot; 0 when not given. */
  readonly bermWidthM?: number | undefined;
  /** How far the level floor's edge lies inside the rim, for rules that measure from it; 0 when not given. */
  readonly bottomInsetM?: number | undefined;
  /** Bottom of the dig, layers and all, below the ground's surface, metres. */
  readonly bottomDepthM?: number | undefined;
  /** Depth of water when it begins to overflow, metres. */
  readonly pondingDepthM?: number | undefined;
  /**
   * How long ponded water stands after the storm, hours; `Infinity` when it never goes. Where it is not given and the
   * soil's rate is, it is taken as the ponding depth over the rate.
   */
  readonly drainDownH?: number | undefined;
  /**
   * The stretches that overflow takes over the finished ground, from the notch on, local metres. What runs through
   * pipes is left out: it runs onto nothing.
   */
  readonly overflowWays?: readonly (readonly XY[])[] | undefined;
  /** What the design says of all of it; it is the judge wherever it is known. */
  readonly overflowVerdict?: OverflowJudged | undefined;
}

/** The part of a design's verdict on overflow that a rule repeats. */
export interface OverflowJudged extends Pick<DesignedReach, 'feature' | 'result' | 'why'> {
  readonly at: XY | null;
}

/** What others have worked out about one basin. */
export interface KnownOfBasin {
  readonly drainDownH?: number | undefined;
  readonly overflowWays?: readonly (readonly XY[])[] | undefined;
  readonly overflowVerdict?: OverflowJudged | undefined;
}

/**
 * The basins of a plan as the rules see them: depths, slopes and layers as the plan gives them, else as the ground is
 * built with (`basinDefaults`).
 *
 * @param knownOf - what has been worked out elsewhere; leave out what is not known.
 */
export function checkedBasins(
  plan: Pick<LocalPlan, 'of'>,
  knownOf: (id: string) => KnownOfBasin = () => ({}),
): CheckedBasin[] {
  return plan.of.basin.map((basin) => checkedBasin(basin, knownOf(basin.id)));
}

function checkedBasin(
  { id, feature, shape }: LocalFeature<'basin'>,
  known: KnownOfBasin,
): CheckedBasin {
  const { properties } = feature;
  const pondingDepthM = properties.ponding_depth_m ?? basinDefaults.pondingDepthM;
  const bowlM = pondingDepthM + (properties.freeboard_m ?? freeboardM);
  const layersM = (properties.layers ?? []).reduce((sum, layer) => sum + layer.thickness_m, 0);
  const sideSlope = properties.side_slope ?? basinDefaults.sideSlope;
  return {
    id,
    name: properties.name,
    rim: shape.rings[0],
    // Level top, then the outer slope of a berm as high as the bowl is deep: the widest that is built from its earth.
    bermWidthM: bermTopM + bowlM * sideSlope,
    bottomInsetM: bowlM * sideSlope,
    pondingDepthM,
    bottomDepthM: bowlM + (properties.dig_depth_m ?? layersM),
    ...known,
  };
}
