import { COLUMN_STEP, LEAVES, NONE, ROW_STEP } from '../../../lib/drainage/terrain/neighbours';
import { pourStorm, type StormPools } from '../../../lib/drainage/storm/pour-storm';
import type { BareTerrain } from '../../../lib/drainage/terrain/terrain';
import { waterSurface } from '../../../lib/drainage/storm/water-surface';

/** Writes the shares of cell `i` to its eight neighbours. The cell has a strictly lower one, and `receiver` is it. */
type Rule = (
  z: Float32Array,
  i: number,
  offsets: readonly number[],
  receiver: number,
  share: Float64Array,
) => void;

const inverseStep = (isDiagonal: boolean): number => (isDiagonal ? Math.SQRT1_2 : 1);

/** Ways to share a cell's water among its neighbours, all on the ground as it is: pits keep what arrives. */
export const rules = {
  'single flow': (_z, i, _offsets, receiver, share) => {
    share[8 * i + receiver] = 1;
  },
  'slope, 8 neighbours': multiple((drop, isDiagonal) => drop * inverseStep(isDiagonal)),
  'slope^1.1, 8': multiple((drop, isDiagonal) => (drop * inverseStep(isDiagonal)) ** 1.1),
  // lengths of contour 1/2 and 0.354 of a cell
  'slope x contour, 8': multiple((drop, isDiagonal) => drop * (isDiagonal ? 0.25 : 0.5)),
  'sqrt(slope), 8': multiple((drop, isDiagonal) => Math.sqrt(drop * inverseStep(isDiagonal))),
  'slope, 4 neighbours': multiple((drop, isDiagonal) => (isDiagonal ? 0 : drop)),
  'facet by angle': facet((along, aside) => Math.atan2(aside, along) / (Math.PI / 4)),
  'facet by slopes': facet((along, aside) => aside / along),
} satisfies Record<string, Rule>;

export type RuleName = keyof typeof rules;
export const ruleNames = Object.keys(rules) as RuleName[];

/** Shares in proportion to a weight of the drop to each lower neighbour. */
function multiple(weightOf: (drop: number, isDiagonal: boolean) => number): Rule {
  return (z, i, offsets, receiver, share) => {
    let total = 0;
    for (let d = 0; d < 8; d++) {
      const drop = z[i] - z[i + offsets[d]];
      const weight = drop > 0 ? weightOf(drop, d % 2 === 1) : 0;
      share[8 * i + d] = weight;
      total += weight;
    }
    if (total === 0) share[8 * i + receiver] = 1;
    else for (let d = 0; d < 8; d++) share[8 * i + d] /= total;
  };
}

/**
 * Shares among the two neighbours that the steepest of the eight triangular facets around the cell points between.
 *
 * @param toDiagonal - part for the diagonal neighbour, from the facet's slopes along the way to the straight one and
 *   across it.
 * Source: Tarboton (1997), Water Resources Research 33(2), 309-319 (from memory), who shares by angle. By slopes the
 *   mean direction is the facet's own.
 */
function facet(toDiagonal: (along: number, aside: number) => number): Rule {
  return (z, i, offsets, receiver, share) => {
    let steepest = 0;
    for (let straight = 0; straight < 8; straight += 2) {
      for (const diagonal of [(straight + 1) % 8, (straight + 7) % 8]) {
        const along = z[i] - z[i + offsets[straight]];
        const aside = z[i + offsets[straight]] - z[i + offsets[diagonal]];
        // where the facet falls outside itself water keeps to its nearer edge
        let slope = Math.hypot(along, aside);
        let part = 0;
        if (aside <= 0) slope = along;
        else if (aside < along) part = toDiagonal(along, aside);
        else {
          slope = (along + aside) * Math.SQRT1_2;
          part = 1;
        }
        if (slope <= steepest) continue;
        steepest = slope;
        share.fill(0, 8 * i, 8 * i + 8);
        share[8 * i + straight] = 1 - part;
        share[8 * i + diagonal] = part;
      }
    }
    if (steepest === 0) share[8 * i + receiver] = 1;
  };
}

/** How water is shared on a terrain. */
export interface Shares {
  readonly terrain: BareTerrain;
  /** For each cell its shares to the neighbours in the order of their codes; all 0 where water stays or leaves. */
  readonly share: Float64Array;
  /** Cells that pass water on, each before those that it gives water to. */
  readonly order: Int32Array;
  readonly offsets: readonly number[];
}

export function sharesOf(terrain: BareTerrain, name: RuleName): Shares {
  const { z, width, receiver } = terrain;
  const rule: Rule = rules[name];
  const offsets = COLUMN_STEP.slice(0, 8).map((column, d) => column + ROW_STEP[d] * width);
  const share = new Float64Array(8 * z.length);
  const passing: number[] = [];
  for (let i = 0; i < z.length; i++) {
    const code = receiver[i];
    if (code === NONE || code === LEAVES) continue;
    passing.push(i);
    if (z[i + offsets[code]] < z[i]) rule(z, i, offsets, code, share);
    else share[8 * i + code] = 1;
  }
  // on level ground receivers have the smaller indices
  const order = Int32Array.from(passing).sort((a, b) => z[b] - z[a] || b - a);
  return { terrain, share, order, offsets };
}

/** Water that goes from one cell to another. */
export type Move = (from: number, to: number, volume: number) => void;

/** A storm that has run off. Volumes in cells times metres. */
export interface Poured {
  /** What each cell had from its own and from cells above, without overflow of pools. */
  readonly arrived: Float64Array;
  readonly pools: StormPools;
  /** Tells of every move of water, over the ground and from pool to pool. */
  readonly eachMove: (move: Move) => void;
}

/** Shares run-off down to pits and edges; what low spots cannot hold goes on down their tree by steepest descent. */
export function pour(
  { terrain, share, order, offsets }: Shares,
  runOffM: ArrayLike<number>,
): Poured {
  const { z, receiver, catchment, tree } = terrain;
  const arrived = Float64Array.from({ length: z.length }, (_, i) => runOffM[i]);
  for (const i of order) {
    for (let d = 0; d < 8; d++) {
      const part = share[8 * i + d];
      if (part > 0) arrived[i + offsets[d]] += part * arrived[i];
    }
  }
  const inflow = new Float64Array(tree.pits + 1);
  for (let i = 0; i < z.length; i++) {
    if (receiver[i] === LEAVES) inflow[0] += arrived[i];
    else if (receiver[i] === NONE) inflow[catchment[i]] += arrived[i];
  }
  const pools = pourStorm(terrain, inflow);
  const eachMove = (move: Move): void => {
    for (const i of order) {
      for (let d = 0; d < 8; d++) {
        const part = share[8 * i + d];
        if (part > 0) move(i, i + offsets[d], part * arrived[i]);
      }
    }
    const gather = gatherPools(terrain, pools, move);
    for (let pit = 1; pit <= tree.pits; pit++) gather(tree.pitCells[pit], inflow[pit]);
    for (let pool = 0; pool < pools.count; pool++) {
      const volume = pools.spilled[pool];
      if (volume === 0) continue;
      const node = pools.node[pool];
      let at = tree.spillTo[node];
      move(firstPit(terrain, node), tree.spillFrom[node], volume);
      move(tree.spillFrom[node], at, volume);
      while (receiver[at] !== NONE && receiver[at] !== LEAVES) {
        const next = at + offsets[receiver[at]];
        move(at, next, volume);
        at = next;
      }
      if (receiver[at] === NONE) gather(at, volume);
    }
  };
  return { arrived, pools, eachMove };
}

/** The cell that stands for a low spot: its first pit. */
export function firstPit({ tree }: BareTerrain, node: number): number {
  return tree.pitCells[tree.pitOrder[tree.pitStart[node]]];
}

/**
 * Tells of what happens within pools: what stands goes from the first pit to where the water's surface has it.
 *
 * @returns tells of a volume that comes to a pool's cell: it goes to the first pit.
 */
export function gatherPools(
  terrain: BareTerrain,
  pools: StormPools,
  move: Move,
): (cell: number, volume: number) => void {
  const poolOf = (cell: number): number => pools.poolOfPit[terrain.catchment[cell]];
  waterSurface(terrain, pools).depth.forEach((depth, cell) => {
    if (depth > 0) move(firstPit(terrain, pools.node[poolOf(cell)]), cell, depth);
  });
  return (cell, volume) => {
    const pool = poolOf(cell);
    if (pool !== -1 && volume > 0) move(cell, firstPit(terrain, pools.node[pool]), volume);
  };
}

/** Share of each cell's water that reaches a target by sharing alone: pits outside keep what arrives. */
export function shareReaching(
  { share, order, offsets }: Shares,
  isTarget: Uint8Array,
): Float64Array {
  const reaching = Float64Array.from(isTarget);
  for (let at = order.length - 1; at >= 0; at--) {
    const i = order[at];
    if (isTarget[i] === 1) continue;
    for (let d = 0; d < 8; d++) {
      const part = share[8 * i + d];
      if (part > 0) reaching[i] += part * reaching[i + offsets[d]];
    }
  }
  return reaching;
}
