import type { StormPools } from './pour-storm';
import type { Terrain } from './terrain';

/** Cells that a full low spot covers, grouped by catchment. */
export interface PondCells {
  /** The cells of catchment `c` are `cells[start[c]]` up to but without `cells[start[c + 1]]`; `pits + 2` elements. */
  readonly start: Int32Array;
  readonly cells: Int32Array;
}

const pondCellsOf = new WeakMap<Terrain, PondCells>();

/** The cells below the fill level of their catchment, grouped by catchment, in the terrain's workspace. Counted once for each terrain: O(n). */
export function pondCells(terrain: Terrain): PondCells {
  const known = pondCellsOf.get(terrain);
  if (known !== undefined) return known;
  const { z, catchment, fillLevel, tree, workspace } = terrain;
  const start = workspace.int32('pond start', tree.pits + 2).fill(0);
  for (let i = 0; i < z.length; i++) {
    if (z[i] < fillLevel[catchment[i]]) start[catchment[i] + 1]++;
  }
  for (let at = 1; at < start.length; at++) start[at] += start[at - 1];
  const cells = workspace.int32('pond cells', start[tree.pits + 1]);
  const free = workspace.int32('pond free', start.length);
  free.set(start);
  for (let i = 0; i < z.length; i++) {
    const c = catchment[i];
    if (z[i] < fillLevel[c]) cells[free[c]++] = i;
  }
  const found = { start, cells };
  pondCellsOf.set(terrain, found);
  return found;
}

/** Cells of a low spot below a level, which must not be above its spill level. Cost: O(its cells). */
export function cellsBelowLevel(terrain: Terrain, node: number, level: number): Int32Array {
  const { z, tree } = terrain;
  const { start, cells } = pondCells(terrain);
  let most = 0;
  for (let at = tree.pitStart[node]; at < tree.pitEnd[node]; at++) {
    const pit = tree.pitOrder[at];
    most += start[pit + 1] - start[pit];
  }
  const found = new Int32Array(most);
  let count = 0;
  for (let at = tree.pitStart[node]; at < tree.pitEnd[node]; at++) {
    const pit = tree.pitOrder[at];
    for (let k = start[pit]; k < start[pit + 1]; k++) {
      found[count] = cells[k];
      count += z[cells[k]] < level ? 1 : 0;
    }
  }
  return found.slice(0, count);
}

/**
 * Level at which a low spot of the tree holds a volume.
 *
 * Volume as a function of level is convex and made of straight pieces; Newton's method from the
 * spill level comes down to the solution without overshooting and ends on its piece exactly. Cells
 * that fall dry on the way are dropped.
 *
 * @param volume - cell areas times metres, from 0 to the low spot's volume; for a merged low spot at
 *   least what its children hold.
 * @returns the level in the units of `z`, the spill level when the volume is not less than the capacity.
 * Cost: O(k) for each step, a dozen steps or so, for k cells of the low spot.
 */
export function levelFor(terrain: Terrain, node: number, volume: number): number {
  const { z, tree } = terrain;
  let level = tree.spill[node];
  if (volume >= terrain.volume[node]) return level;
  const { start, cells } = pondCells(terrain);
  const heights = terrain.workspace.float32('level heights', cells.length);
  let count = 0;
  for (let at = tree.pitStart[node]; at < tree.pitEnd[node]; at++) {
    const pit = tree.pitOrder[at];
    for (let k = start[pit]; k < start[pit + 1]; k++) heights[count++] = z[cells[k]];
  }
  for (let previous = -1; ;) {
    let held = 0;
    let below = 0;
    for (let k = 0; k < count; k++) {
      const height = heights[k];
      if (height >= level) continue;
      heights[below++] = height;
      held += level - height;
    }
    // nothing fell dry: the last step was taken on this very piece
    if (below === 0 || below === previous) return level;
    level -= (held - volume) / below;
    previous = below;
    count = below;
  }
}

/** The water of a storm as a surface. */
export interface WaterSurface {
  /** Depth of water in metres for each cell, 0 where it is dry or there is no data. */
  readonly depth: Float32Array;
  /** Level of each pool in the units of `z`. */
  readonly level: Float64Array;
  /** Cells that each pool covers. */
  readonly cells: Int32Array;
}

/**
 * Levels, extents and depths of a storm's pools. A full pool stands at its spill level exactly.
 *
 * @param depth - receives the depths when given.
 * Cost: O(n) to clear the raster, and a dozen steps over the cells of pools that are not full.
 */
export function waterSurface(
  terrain: Terrain,
  pools: StormPools,
  depth: Float32Array = new Float32Array(terrain.z.length),
): WaterSurface {
  const { z, tree } = terrain;
  const { start, cells } = pondCells(terrain);
  const level = new Float64Array(pools.count);
  const covered = new Int32Array(pools.count);
  depth.fill(0);
  for (let pool = 0; pool < pools.count; pool++) {
    const node = pools.node[pool];
    const own =
      pools.full[pool] === 1 ? tree.spill[node] : levelFor(terrain, node, pools.stored[pool]);
    level[pool] = own;
    let count = 0;
    for (let at = tree.pitStart[node]; at < tree.pitEnd[node]; at++) {
      const pit = tree.pitOrder[at];
      for (let k = start[pit]; k < start[pit + 1]; k++) {
        const under = own - z[cells[k]];
        if (under <= 0) continue;
        depth[cells[k]] = under;
        count++;
      }
    }
    covered[pool] = count;
  }
  return { depth, level, cells: covered };
}
