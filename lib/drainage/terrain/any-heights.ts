import type { LowSpotTree } from './low-spot-tree';
import { lowSpotVolumes } from './volumes';
import type { Workspace } from './workspace';

/** Relief in the units of the kernels: large, so that Float32 tells heights apart to a 16-millionth of it. */
const reliefBits = 30;
/** The least height and the limit of the kernels, see `steepestDescent`. */
const least = 1;
const limit = 2 ** 64;

/**
 * Heights moved and stretched into the range of the kernels; `null` where they lie in it as they are.
 *
 * The factor is a power of two, so that differences keep their digits. Heights closer together than a 16-millionth of the
 * relief may become equal.
 */
export function rescaled(z: Float32Array): Float32Array | null {
  let lowest = Infinity;
  let highest = -Infinity;
  for (let i = 0; i < z.length; i++) {
    const height = z[i];
    if (height < lowest && height > -Infinity) lowest = height;
    if (height > highest && height < Infinity) highest = height;
  }
  if (lowest > highest || (lowest >= least && highest < limit)) return null;
  const relief = highest - lowest;
  const factor = relief > 0 ? 2 ** (reliefBits - Math.ceil(Math.log2(relief))) : 1;
  return z.map((height) => (Number.isFinite(height) ? (height - lowest) * factor + least : NaN));
}

/** What of a terrain is in heights. */
interface Heights {
  readonly tree: LowSpotTree;
  readonly fillLevel: Float32Array;
  readonly filled: Float32Array;
  readonly catchment: Int32Array;
  readonly workspace: Workspace;
}

/** A terrain built on rescaled heights, in heights as they were given. Its arrays are changed in place. */
export function inGivenHeights<T extends Heights>(built: T, z: Float32Array): T {
  const { tree, fillLevel, filled, catchment, workspace } = built;
  const { pits, nodes, root, spill, spillFrom, spillTo } = tree;
  // The height of a pass is that of the higher of its two cells: copied, never computed.
  for (let node = 1; node < nodes; node++) {
    spill[node] = Math.max(z[spillFrom[node]], z[spillTo[node]]);
  }
  spill[0] = -Infinity;
  fillLevel[0] = -Infinity;
  for (let pit = 1; pit <= pits; pit++) fillLevel[pit] = spill[root[pit]];
  for (let i = 0; i < z.length; i++) filled[i] = Math.max(z[i], fillLevel[catchment[i]]);
  return { ...built, z, ...lowSpotVolumes(z, catchment, fillLevel, tree, workspace) };
}
