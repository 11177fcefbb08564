import type { Terrain } from './terrain';

/**
 * Number of data cells in each catchment; element 0 counts those that drain off the map directly.
 * Times a uniform depth this is the inflow that `pourStorm` takes.
 *
 * Cost: O(n), once for each terrain; another depth needs no new count.
 */
export function catchmentCells(terrain: Terrain): Float64Array {
  const { catchment, tree, outside } = terrain;
  const counts = new Float64Array(tree.pits + 1);
  for (let i = 0; i < catchment.length; i++) counts[catchment[i]]++;
  counts[0] -= outside;
  return counts;
}

/**
 * Sums a depth for each cell over the catchments; element 0 is what drains off the map directly.
 *
 * @param depths - one for each cell, for example run-off in metres; not read where there is no data.
 * @returns depth times cells, `pits + 1` elements; an extra inflow at a point is added to the
 *   element of `catchment[cell]`.
 * Cost: O(n).
 */
export function catchmentSums(
  terrain: Terrain,
  depths: Float32Array | Float64Array,
  out: Float64Array = new Float64Array(terrain.tree.pits + 1),
): Float64Array {
  const { catchment, outside, z } = terrain;
  out.fill(0);
  if (outside === 0) {
    for (let i = 0; i < catchment.length; i++) out[catchment[i]] += depths[i];
    return out;
  }
  for (let i = 0; i < catchment.length; i++) {
    if (!Number.isNaN(z[i])) out[catchment[i]] += depths[i];
  }
  return out;
}
