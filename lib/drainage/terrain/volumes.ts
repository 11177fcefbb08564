import type { LowSpotTree } from './low-spot-tree';
import type { Workspace } from './workspace';

/** Sizes of all low spots when filled to their spill level, one element for each node of the tree. */
export interface LowSpotVolumes {
  /** Volume in cell areas times metres. */
  readonly volume: Float64Array;
  /** Volume less that of the two children: what a low spot holds once they are full. Never negative. */
  readonly ownVolume: Float64Array;
  /** Cells below the spill level. */
  readonly cellsBelow: Int32Array;
}

/** How many generations up each jump goes. Deep, narrow trees are usual on noisy ground. */
const JUMPS: readonly number[] = [4, 16, 64, 256];

/**
 * Measures every low spot of the tree.
 *
 * Each cell is added to the lowest of its low spots whose spill level is above it. From there
 * volumes add up: a merged low spot holds what its children hold, and a layer from their spill
 * level to its own over their cells. Depths are summed, never heights, so that nothing is lost to
 * large elevations.
 *
 * Cost: O(n log depth) thanks to jumps of 4, 16, 64 and 256 generations (spill levels never fall upwards).
 */
export function lowSpotVolumes(
  z: Float32Array,
  catchment: Int32Array,
  fillLevel: Float32Array,
  tree: LowSpotTree,
  workspace: Workspace,
): LowSpotVolumes {
  const { nodes, parent, child0, child1, spill, pits } = tree;
  const volume = workspace.float64('tree volume', nodes).fill(0);
  const ownVolume = workspace.float64('tree own volume', nodes);
  const cellsBelow = workspace.int32('tree cells below', nodes).fill(0);
  // A jump past the root stays at 0, whose height, 0, is below every cell: it is never taken.
  const jumps = JUMPS.map((_, at) => workspace.int32(`tree jump ${at}`, nodes).fill(0));
  const steps = [parent, ...jumps];
  for (let at = 0; at < jumps.length; at++) {
    const below = steps[at];
    const to = jumps[at];
    for (let node = nodes - 1; node > 0; node--) {
      to[node] = below[below[below[below[node]]]];
    }
  }
  addCells(
    z,
    catchment,
    fillLevel,
    spill,
    parent,
    jumps[0],
    jumps[1],
    jumps[2],
    jumps[3],
    volume,
    cellsBelow,
  );
  ownVolume.set(volume.subarray(0, pits + 1));
  for (let node = pits + 1; node < nodes; node++) {
    const a = child0[node];
    const b = child1[node];
    // its own cells, and a layer over the children's from their spill level to this one
    const own = volume[node] + (cellsBelow[a] + cellsBelow[b]) * (spill[node] - spill[a]);
    ownVolume[node] = own;
    volume[node] = volume[a] + volume[b] + own;
    cellsBelow[node] += cellsBelow[a] + cellsBelow[b];
  }
  return { volume, ownVolume, cellsBelow };
}

function addCells(
  z: Float32Array,
  catchment: Int32Array,
  fillLevel: Float32Array,
  spill: Float32Array,
  parent: Int32Array,
  jump4: Int32Array,
  jump16: Int32Array,
  jump64: Int32Array,
  jump256: Int32Array,
  volume: Float64Array,
  cellsBelow: Int32Array,
): void {
  for (let i = 0; i < z.length; i++) {
    let node = catchment[i];
    const height = z[i];
    if (!(height < fillLevel[node])) continue;
    if (!(height < spill[node])) {
      // climb as long as the low spot reached is still below the cell
      for (let up = jump256[node]; up !== 0 && spill[up] <= height; up = jump256[node]) node = up;
      for (let up = jump64[node]; up !== 0 && spill[up] <= height; up = jump64[node]) node = up;
      for (let up = jump16[node]; up !== 0 && spill[up] <= height; up = jump16[node]) node = up;
      for (let up = jump4[node]; up !== 0 && spill[up] <= height; up = jump4[node]) node = up;
      do node = parent[node];
      while (spill[node] <= height);
    }
    volume[node] += spill[node] - height;
    cellsBelow[node]++;
  }
}
