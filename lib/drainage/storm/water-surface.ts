import type { StormPools } from './pour-storm';
import type { BareTerrain } from '../terrain/terrain';

/** Cells that a full low spot covers, grouped by catchment. */
export interface PondCells {
  /** The cells of catchment `c` are `cells[start[c]]` up to but without `cells[start[c + 1]]`; `pits + 2` elements. */
  readonly start: Int32Array;
  readonly cells: Int32Array;
}

const pondCellsOf = new WeakMap<BareTerrain, PondCells>();

/** The cells below the fill level of their catchment, grouped by catchment, in the terrain's workspace. Counted once for each terrain: O(n). */
export function pondCells(terrain: BareTerrain): PondCells {
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
export function cellsBelowLevel(terrain: BareTerrain, node: number, level: number): Int32Array {
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
export function levelFor(terrain: BareTerrain, node: number, volume: number): number {
  const { z, tree } = terrain;
  const level = tree.spill[node];
  if (volume >= terrain.volume[node]) return level;
  const { start, cells } = pondCells(terrain);
  const heights = terrain.workspace.float32('level heights', cells.length);
  let count = 0;
  for (let at = tree.pitStart[node]; at < tree.pitEnd[node]; at++) {
    const pit = tree.pitOrder[at];
    for (let k = start[pit]; k < start[pit + 1]; k++) heights[count++] = z[cells[k]];
  }
  return levelOver(heights, 0, count, level, volume);
}

/** The level that holds a volume over some heights, come down to from one that holds more. The heights are moved about. */
function levelOver(
  heights: Float32Array,
  start: number,
  end: number,
  from: number,
  volume: number,
): number {
  let level = from;
  for (let last = end, previous = -1; ;) {
    let held = 0;
    let below = start;
    for (let k = start; k < last; k++) {
      const height = heights[k];
      if (height >= level) continue;
      heights[below++] = height;
      held += level - height;
    }
    // nothing fell dry: the last step was taken on this very piece
    if (below === start || below === previous) return level;
    level -= (held - volume) / (below - start);
    previous = below;
    last = below;
  }
}

/**
 * Level of the water over each catchment, 0 where none stands: enough to tell the depth of any cell. For one storm on a terrain; where
 * many follow, `waterSurface` remembers which cells lie in ponds.
 *
 * @returns `pits + 1` elements in the units of `z`, in the terrain's workspace.
 * Cost: O(n), and a dozen steps over the cells of pools that are not full.
 */
export function waterLevels(terrain: BareTerrain, pools: StormPools): Float64Array {
  const { z, catchment, tree, workspace } = terrain;
  const { count, node: nodeOf, full, stored, poolOfPit } = pools;
  const levels = workspace.float64('water levels', tree.pits + 1).fill(0);
  // Only in pools that are not full is the level not known: cells lower than these are gathered.
  const gatherBelow = workspace.float32('water gather', tree.pits + 1).fill(0);
  for (let pit = 1; pit <= tree.pits; pit++) {
    const pool = poolOfPit[pit];
    if (pool === -1) continue;
    const spill = tree.spill[nodeOf[pool]];
    if (full[pool] === 1) levels[pit] = spill;
    else gatherBelow[pit] = spill;
  }
  const gathered = workspace.int32('water gathered', z.length + 1);
  const most = gather(z, catchment, gatherBelow, gathered);
  const end = workspace.int32('water ends', count + 1).fill(0);
  for (let at = 0; at < most; at++) end[poolOfPit[catchment[gathered[at]]] + 1]++;
  for (let pool = 0; pool < count; pool++) end[pool + 1] += end[pool];
  const heights = workspace.float32('water heights', most);
  for (let at = 0; at < most; at++) {
    heights[end[poolOfPit[catchment[gathered[at]]]]++] = z[gathered[at]];
  }
  for (let pool = 0; pool < count; pool++) {
    if (full[pool] === 1) continue;
    const node = nodeOf[pool];
    const start = pool === 0 ? 0 : end[pool - 1];
    const level = levelOver(heights, start, end[pool], tree.spill[node], stored[pool]);
    for (let at = tree.pitStart[node]; at < tree.pitEnd[node]; at++) {
      levels[tree.pitOrder[at]] = level;
    }
  }
  return levels;
}

/** Lists the cells lower than what is given for their catchment; returns how many. `cells` has room for one more than there are. */
function gather(
  z: Float32Array,
  catchment: Int32Array,
  below: Float32Array,
  cells: Int32Array,
): number {
  // Positive floats sort like their bits, `NaN` above all: no branch, which would often be guessed wrong.
  const bits = new Int32Array(z.buffer, z.byteOffset, z.length);
  const belowBits = new Int32Array(below.buffer, below.byteOffset, below.length);
  let count = 0;
  for (let cell = 0; cell < bits.length; cell++) {
    cells[count] = cell;
    count += (bits[cell] - belowBits[catchment[cell]]) >>> 31;
  }
  return count;
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
  terrain: BareTerrain,
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
