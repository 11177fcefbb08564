import { findCutSides, type CutSide } from './cut-sides';
import { NONE, neighbourOffsets } from './neighbours';
import type { Routing } from './routing';

export interface Contribution {
  /** Share of each cell's water that reaches the target, 0 to 1; 1 in the target, 0 without data. */
  readonly share: Float32Array;
  /** Sum of shares: the contributing area in cells, the target's own included. */
  readonly cells: number;
  /** Whether ground beyond the edge of the data would contribute too; `cells` is then a lower bound. */
  readonly cutByEdge: boolean;
  /** Where it would come from. */
  readonly cutSides: readonly CutSide[];
}

/**
 * How much of each cell's water reaches a target by multiple flow over the filled surface.
 *
 * The routing sweep run backwards: a cell's share is the mean of its receivers' shares, weighted as
 * its water is. What enters the target stays there.
 *
 * @param target - cell indices, or a mask of all cells with 1 for the target (a `Uint8Array` as long as the grid).
 * @param share - receives the shares when given.
 * Cost: O(n).
 */
export function contributingShare(
  routing: Routing,
  target: ArrayLike<number>,
  share: Float32Array = new Float32Array(routing.directions.length),
): Contribution {
  const { terrain, directions } = routing;
  const { filled, width, workspace } = terrain;
  const size = filled.length;
  const isTarget = workspace.uint8('share target', size);
  if (target instanceof Uint8Array && target.length === size) {
    isTarget.set(target);
  } else {
    isTarget.fill(0);
    for (let at = 0; at < target.length; at++) isTarget[target[at]] = 1;
  }
  share.fill(0);
  const cells = sweepUp(filled, width, directions, routing.upstreamFirst, isTarget, share);
  const cutSides = findCutSides(routing, isTarget, share);
  return { share, cells, cutSides, cutByEdge: cutSides.length > 0 };
}

function sweepUp(
  filled: Float32Array,
  width: number,
  directions: Uint8Array,
  order: Int32Array,
  isTarget: Uint8Array,
  share: Float32Array,
): number {
  const offsets = neighbourOffsets(width);
  let sum = 0;
  for (let at = order.length - 1; at >= 0; at--) {
    const i = order[at];
    if (isTarget[i] !== 0) {
      share[i] = 1;
      sum++;
      continue;
    }
    const code = directions[i];
    if (code >= NONE) continue;
    const h = filled[i];
    let e = h - filled[i + 1];
    let s = h - filled[i + width];
    let w = h - filled[i - 1];
    let n = h - filled[i - width];
    let se = h - filled[i + width + 1];
    let sw = h - filled[i + width - 1];
    let nw = h - filled[i - width - 1];
    let ne = h - filled[i - width + 1];
    e += Math.abs(e);
    s += Math.abs(s);
    w += Math.abs(w);
    n += Math.abs(n);
    se += Math.abs(se);
    sw += Math.abs(sw);
    nw += Math.abs(nw);
    ne += Math.abs(ne);
    const total = e + s + w + n + (se + sw + nw + ne) * Math.SQRT1_2;
    const straight =
      e * share[i + 1] + s * share[i + width] + w * share[i - 1] + n * share[i - width];
    const diagonal =
      se * share[i + width + 1] +
      sw * share[i + width - 1] +
      nw * share[i - width - 1] +
      ne * share[i - width + 1];
    const found =
      total === 0 ? share[i + offsets[code]] : (straight + diagonal * Math.SQRT1_2) / total;
    share[i] = found;
    sum += found;
  }
  return sum;
}
