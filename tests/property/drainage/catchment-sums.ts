import type { BareTerrain } from '../../../lib/drainage/terrain/terrain';

/** Depths summed over the catchments of single flow, for pouring without routing; element 0 drains off the map. */
export function catchmentSums(
  { catchment, tree, z }: BareTerrain,
  depths: Float64Array,
): Float64Array {
  const sums = new Float64Array(tree.pits + 1);
  catchment.forEach((pit, cell) => {
    if (!Number.isNaN(z[cell])) sums[pit] += depths[cell];
  });
  return sums;
}

/** Cells with data in each catchment. */
export function catchmentCells(terrain: BareTerrain): Float64Array {
  return catchmentSums(terrain, new Float64Array(terrain.z.length).fill(1));
}
