import type { BareTerrain } from './terrain';

const cellsOf = new WeakMap<BareTerrain, Float64Array>();

/**
 * Number of data cells in each catchment; element 0 counts those that drain off the map directly.
 *
 * @returns an array in the terrain's workspace: not to be changed.
 * Cost: O(n), counted once for each terrain.
 */
export function catchmentCells(terrain: BareTerrain): Float64Array {
  const known = cellsOf.get(terrain);
  if (known !== undefined) return known;
  const { catchment, tree, outside, workspace } = terrain;
  const counts = workspace.float64('catchment cells', tree.pits + 1).fill(0);
  for (let i = 0; i < catchment.length; i++) counts[catchment[i]]++;
  counts[0] -= outside;
  cellsOf.set(terrain, counts);
  return counts;
}

/**
 * Inflow to each catchment, as `pourStorm` takes it, when every data cell gives the same depth.
 *
 * @param depthM - of run-off, metres.
 * Cost: O(pits) once the catchments' cells are counted.
 */
export function uniformInflow(
  terrain: BareTerrain,
  depthM: number,
  out: Float64Array = new Float64Array(terrain.tree.pits + 1),
): Float64Array {
  const cells = catchmentCells(terrain);
  for (let pit = 0; pit < cells.length; pit++) out[pit] = cells[pit] * depthM;
  return out;
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
  terrain: BareTerrain,
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
