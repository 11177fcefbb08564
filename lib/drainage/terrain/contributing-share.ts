import { findCutSides, type CutSide } from './cut-sides';
import { beyondSpill, type Routing } from './routing';
import { shareSweep } from './share-sweep';

export interface Contribution {
  /** Share of each cell's water that reaches the target, 0 to 1; 1 in the target, 0 without data. */
  readonly share: Float64Array;
  /** Sum of shares: the contributing area in cells, the target's own included. */
  readonly cells: number;
  /** Whether ground beyond the edge of the data would contribute too; `cells` is then a lower bound. */
  readonly cutByEdge: boolean;
  /** Where it would come from. */
  readonly cutSides: readonly CutSide[];
}

/** A pond that would cover at least this part of a target is one water with it. Our choice, no source. */
const coveredShare = 0.5;

/**
 * A target with the ponds that would cover most of it: what comes to such a pond anywhere has reached the target.
 *
 * @param target - cell indices, or a mask of all cells with 1 for the target.
 * @returns a mask of all cells.
 */
export function targetWithPonds(
  { ponds, terrain }: Routing,
  target: ArrayLike<number>,
): Uint8Array<ArrayBuffer> {
  const size = terrain.z.length;
  const mask = new Uint8Array(size);
  const given = target instanceof Uint8Array && target.length === size ? cellsIn(target) : target;
  const covered = new Map<number, number>();
  let cells = 0;
  for (let at = 0; at < given.length; at++) {
    const cell = given[at];
    if (mask[cell] !== 0) continue;
    mask[cell] = 1;
    cells++;
    const pond = ponds.of[cell];
    if (pond !== 0) covered.set(pond, (covered.get(pond) ?? 0) + 1);
  }
  for (const [pond, count] of covered) {
    if (count < coveredShare * cells) continue;
    for (let at = ponds.start[pond]; at < ponds.start[pond + 1]; at++) mask[ponds.cells[at]] = 1;
  }
  return mask;
}

function cellsIn(mask: Uint8Array): readonly number[] {
  const cells: number[] = [];
  for (let cell = 0; cell < mask.length; cell++) if (mask[cell] !== 0) cells.push(cell);
  return cells;
}

/**
 * How much of each cell's water reaches a target by topography: by multiple flow, with every low spot full, so that none holds
 * anything back.
 *
 * @param target - cell indices, or a mask of all cells with 1 for the target (a `Uint8Array` as long as the grid).
 * @param share - receives the shares when given.
 * Cost: O(n); as often again as low spots too large for one water spill into one another.
 */
export function contributingShare(
  routing: Routing,
  target: ArrayLike<number>,
  share: Float64Array = new Float64Array(routing.surface.length),
): Contribution {
  const { ponds, terrain } = routing;
  const { tree } = terrain;
  const isTarget = targetWithPonds(routing, target);
  const passes = new Float64Array(ponds.count + 1).fill(1);
  const otherwise = new Float64Array(ponds.count + 1);
  // What a pond without a way out gets leaves, all being full, where the outermost low spot around it spills.
  const spillsTo = Int32Array.from(ponds.node, (node, pond) =>
    pond === 0 || ponds.to[pond] !== -1 ? -1 : beyondSpill(terrain, tree.root[node]),
  );
  // Over ground with many equal heights two may spill into each other: what is left after so many rounds is next to nothing.
  for (let change = true, round = 0; change && round < 100; round++) {
    shareSweep(routing, isTarget, { passes, otherwise }, share);
    change = false;
    for (let pond = 1; pond <= ponds.count; pond++) {
      const onward = spillsTo[pond] === -1 ? 0 : share[spillsTo[pond]];
      if (Math.abs(onward - otherwise[pond]) > 1e-12) change = true;
      otherwise[pond] = onward;
    }
  }
  let cells = 0;
  for (let i = 0; i < share.length; i++) cells += share[i];
  const cutSides = findCutSides(routing, isTarget, share);
  return { share, cells, cutSides, cutByEdge: cutSides.length > 0 };
}
