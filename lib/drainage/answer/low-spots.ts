import type { BareTerrain } from '../terrain/terrain';
import { cellsBelowLevel } from '../storm/water-surface';

/** A low spot as a person sees it, filled to its brim. Heights are in the units of `z`. */
export interface LowSpot {
  /** Node of the terrain's tree. */
  readonly id: number;
  readonly areaM2: number;
  /** From the spill level down to the pit. */
  readonly depthM: number;
  readonly volumeM3: number;
  /** Lowest cell. */
  readonly pitCell: number;
  /** Cell of the pass at the spill level. */
  readonly spillCell: number;
  readonly spillLevel: number;
  /** The low spots inside that would show as ones of their own, were this one less than full. */
  readonly children: readonly number[];
  /** Cells under water at the brim. */
  readonly cells: Int32Array;
}

export interface LowSpotsOptions {
  readonly cellAreaM2: number;
  /** Shallower ones are left out; 0 where not given. */
  readonly minDepthM?: number;
  /** Smaller ones are left out; 0 where not given. */
  readonly minAreaM2?: number;
  /** Also list those inside others; outermost ones only where not given. */
  readonly nested?: boolean;
}

/**
 * Low spots of a terrain that are deep and wide enough to matter, the largest volume first.
 *
 * The tree has a low spot for every merging, down to the roughness of the grass. Listed are the
 * outermost ones and, inside those, only such as merge with another that matters as well: where
 * just one of two is worth a name, it is the same low spot with less water in it.
 *
 * Cost: O(nodes + listed cells).
 */
export function lowSpots(terrain: BareTerrain, options: LowSpotsOptions): LowSpot[] {
  const { cellAreaM2, minDepthM = 0, minAreaM2 = 0, nested = false } = options;
  const { tree, z, volume, cellsBelow } = terrain;
  const { nodes, pits, pitCells, child0, child1, parent, spill, spillFrom, spillTo } = tree;

  const lowest = new Int32Array(nodes);
  const matters = new Uint8Array(nodes);
  for (let node = 1; node < nodes; node++) {
    if (node <= pits) {
      lowest[node] = pitCells[node];
    } else {
      const a = lowest[child0[node]];
      const b = lowest[child1[node]];
      lowest[node] = z[b] < z[a] ? b : a;
    }
    const depthM = spill[node] - z[lowest[node]];
    const areaM2 = cellsBelow[node] * cellAreaM2;
    matters[node] = depthM > 0 && depthM >= minDepthM && areaM2 >= minAreaM2 ? 1 : 0;
  }

  // A low spot is listed under the nearest listed one around it.
  const listed: number[] = [];
  const children = new Map<number, number[]>();
  const around = new Int32Array(nodes);
  for (let node = nodes - 1; node > 0; node--) {
    const above = parent[node];
    const sibling = child0[above] === node ? child1[above] : child0[above];
    const own = matters[node] === 1 && (above === 0 || matters[sibling] === 1);
    around[node] = own ? node : around[above];
    if (!own) continue;
    if (above === 0 || nested) listed.push(node);
    children.set(node, []);
    if (above !== 0) children.get(around[above])?.push(node);
  }
  return listed
    .map((id) => ({
      id,
      areaM2: cellsBelow[id] * cellAreaM2,
      depthM: spill[id] - z[lowest[id]],
      volumeM3: volume[id] * cellAreaM2,
      pitCell: lowest[id],
      spillCell: z[spillFrom[id]] >= z[spillTo[id]] ? spillFrom[id] : spillTo[id],
      spillLevel: spill[id],
      children: children.get(id) ?? [],
      cells: cellsBelowLevel(terrain, id, spill[id]),
    }))
    .sort((a, b) => b.volumeM3 - a.volumeM3 || a.id - b.id);
}
