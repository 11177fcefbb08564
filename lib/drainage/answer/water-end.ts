import { cellAt } from '../../elevation/grid';
import type { LocalPlan } from '../../plan/local-plan';
import type { PathLeg } from './drainage-result';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';

/** Where the water of a place is when the storm is over. */
export interface WaterEnd {
  /** `nothing-runs` where all that falls soaks in before it comes together. */
  readonly ends: 'stands' | 'storm-sewer' | 'edge-of-data' | 'nothing-runs';
  /** Id of the basin in which it stands; `null` elsewhere. */
  readonly basin: string | null;
  /** Ids of the lots that it runs over, in order, that of the place first. */
  readonly lots: readonly string[];
  /** Full low spots on its way, which held back the first of it. */
  readonly fullPools: number;
}

/**
 * Follows the water of a place to its end in a storm: on through low spots that are full, to the first that is not. Where it
 * goes down a drain that has room, it is followed from the drain's outlet.
 *
 * @param legs - its way, from `followWater`.
 * Cost: O(length of the way + pools on it).
 */
export function waterEnd(
  { ground, terrain }: Pick<ShapedGround, 'ground' | 'terrain'>,
  { stormPools, conduits }: Pick<StormOnGround, 'stormPools' | 'conduits'>,
  plan: LocalPlan,
  legs: readonly PathLeg[],
): WaterEnd {
  const { grid, lotOf, lots, basins } = ground;
  const { poolOfPit, full, spilled, destination, node } = stormPools;
  const { catchment, tree } = terrain;
  const cellsOf = ({ points }: PathLeg): number[] =>
    points.map((at) => cellAt(grid, ...plan.frame.toLocal(at))).filter((cell) => cell !== -1);
  /** Lots under the way, up to a pool. */
  const lotsTo = (last: number): string[] => {
    const passed = new Set<string>();
    for (const leg of legs) {
      if (leg.by === 'pipe') continue;
      for (const cell of cellsOf(leg)) {
        if (lotOf[cell] !== -1) passed.add(lots[lotOf[cell]].id);
        if (last !== -1 && poolOfPit[catchment[cell]] === last) return [...passed];
      }
    }
    return [...passed];
  };

  const final = legs.at(-1);
  if (final === undefined) return { ends: 'nothing-runs', basin: null, lots: [], fullPools: 0 };
  // A yard drain has no course of its own to the sewer: the way ends at its inlet.
  const inlet = final.by === 'pipe' ? -1 : cellsOf(final).at(-1);
  const isDrained = conduits.some(
    ({ conduit, volumeM3 }) =>
      volumeM3 > 0 && conduit.outlet === 'storm-sewer' && conduit.inlet === inlet,
  );
  if (final.by === 'pipe' || isDrained) {
    return { ends: 'storm-sewer', basin: null, lots: lotsTo(-1), fullPools: 0 };
  }
  const lastPipe = legs.findLastIndex(({ by }) => by === 'pipe');
  const [from] = cellsOf(legs[lastPipe + 1]);
  let pool = poolOfPit[catchment[from]];
  if (pool === -1 && catchment[from] !== 0) {
    return { ends: 'nothing-runs', basin: null, lots: [], fullPools: 0 };
  }
  for (let fullPools = 0; ; fullPools++) {
    if (pool === -1) return { ends: 'edge-of-data', basin: null, lots: lotsTo(-1), fullPools };
    if (full[pool] === 0 || spilled[pool] === 0) {
      const pit = tree.pitCells[tree.pitOrder[tree.pitStart[node[pool]]]];
      const basin = basins.find(({ cells }) => cells.includes(pit))?.id ?? null;
      return { ends: 'stands', basin, lots: lotsTo(pool), fullPools };
    }
    pool = destination[pool];
  }
}
