import type { StormFlow } from '../storm/kept-water';
import { OwnerSums } from './owner-sums';

/** What each keeper has standing on whose ground when the storm is over, m3. @param depthM - its shares tell where. Cost: O(n). */
export function standingByOwner(
  { routing, poolOfPit, keeperOfPool, keepers, keptM3, leaving }: StormFlow,
  owner: (cell: number) => number,
  depthM: Float32Array,
): OwnerSums {
  const { catchment, tree } = routing.terrain;
  const depths = new OwnerSums(keepers);
  const whole = new Float64Array(keepers);
  for (let cell = 0; cell < depthM.length; cell++) {
    if (!(depthM[cell] > 0)) continue;
    const pool = poolOfPit[catchment[cell]];
    if (pool === -1) continue;
    depths.add(keeperOfPool[pool], owner(cell), depthM[cell]);
    whole[keeperOfPool[pool]] += depthM[cell];
  }
  // a film too thin for the raster of depths stands in its pit
  for (let pit = 1; pit < poolOfPit.length; pit++) {
    const keeper = poolOfPit[pit] === -1 ? -1 : keeperOfPool[poolOfPit[pit]];
    if (keeper === -1 || whole[keeper] > 0) continue;
    depths.add(keeper, owner(tree.pitCells[pit]), 1);
    whole[keeper] = 1;
  }
  const standsM3 = keptM3.slice();
  for (const { keeper, volumeM3 } of leaving) standsM3[keeper] -= volumeM3;
  const stands = new OwnerSums(keepers);
  for (let keeper = 0; keeper < keepers; keeper++) {
    if (!(standsM3[keeper] > 0) || !(whole[keeper] > 0)) continue;
    depths.each(keeper, (of, depth) => {
      stands.add(keeper, of, (depth / whole[keeper]) * standsM3[keeper]);
    });
  }
  return stands;
}
