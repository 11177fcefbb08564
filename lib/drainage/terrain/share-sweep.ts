import { NONE, neighbourOffsets } from './neighbours';
import { Receivers } from './receivers';
import type { Ponds } from './ponds';
import type { Routing } from './routing';

/** What becomes of water that comes to a pond, by pond; `count + 1` elements. */
export interface PondShares {
  /** Part of what comes to it that it lets on. */
  readonly passes: Float64Array;
  /** Part of what comes to it that reaches the target otherwise: by standing on it, or through a drain. */
  readonly otherwise: Float64Array;
}

/**
 * Part of each cell's water that reaches a target: the sweep of water down the ground run backwards. A cell's share is
 * the mean of its receivers' shares, weighted as its water is. What enters the target stays there.
 *
 * @param isTarget - 1 for the target's cells.
 * @param isEnd - 1 for cells where water ends otherwise.
 * @param share - receives the shares, 0 to 1: 1 in the target, 0 where there is no data.
 * Cost: O(n), little for cells that have nothing to do with the target.
 */
export function shareSweep(
  routing: Routing,
  isTarget: Uint8Array,
  { passes, otherwise }: PondShares,
  share: Float64Array,
  isEnd: Uint8Array | null = null,
): void {
  const { surface, upstreamFirst, ponds, terrain } = routing;
  const { receiver, width, workspace } = terrain;
  const receivers = routing.rule === 'facet' ? new Receivers(routing) : null;
  share.fill(0);
  const { of, last, to } = ponds;
  const values = otherwise.slice();
  const offsets = neighbourOffsets(width);
  // not 0 for cells that may have a share; one row more at either end, and a cell, so that every cell has neighbours
  const margin = width + 1;
  const isNear = workspace.uint8('near a share', share.length + 2 * margin).fill(0);
  isNear.set(isTarget, margin);
  for (let pond = 1; pond <= ponds.count; pond++) {
    if (to[pond] !== -1) isNear[last[pond] + margin] = 1;
    if (values[pond] > 0) markPond(ponds, pond, isNear, margin);
  }
  for (let at = upstreamFirst.length - 1; at >= 0; at--) {
    const i = upstreamFirst[at];
    const near = i + margin;
    if (isNear[near] === 0) continue;
    const pond = of[i];
    // the last cell of a pond is the first that the sweep comes to
    if (pond !== 0 && last[pond] === i && to[pond] !== -1) {
      values[pond] += passes[pond] * share[to[pond]];
      if (values[pond] > 0) markPond(ponds, pond, isNear, margin);
    }
    if (isEnd !== null && isEnd[i] !== 0) continue;
    if (isTarget[i] !== 0) share[i] = 1;
    else if (pond !== 0) share[i] = values[pond];
    else if (receiver[i] >= NONE) continue;
    else if (receivers === null) {
      share[i] = ofReceivers(surface, share, width, i, offsets[receiver[i]]);
    } else {
      const count = receivers.of(i);
      for (let k = 0; k < count; k++) share[i] += receivers.shares[k] * share[receivers.cells[k]];
    }
    if (share[i] === 0) continue;
    isNear[near + 1] = 1;
    isNear[near - 1] = 1;
    isNear[near + width] = 1;
    isNear[near - width] = 1;
    isNear[near + width + 1] = 1;
    isNear[near + width - 1] = 1;
    isNear[near - width - 1] = 1;
    isNear[near - width + 1] = 1;
  }
}

function markPond({ cells, start }: Ponds, pond: number, isNear: Uint8Array, margin: number): void {
  for (let at = start[pond]; at < start[pond + 1]; at++) isNear[cells[at] + margin] = 1;
}

/** Mean of the receivers' shares. @param step - to the receiver where no neighbour is lower. */
function ofReceivers(
  surface: Float32Array,
  share: Float64Array,
  width: number,
  i: number,
  step: number,
): number {
  const h = surface[i];
  // twice the positive parts of the drops, as in the sweep down; the factor cancels out
  let e = h - surface[i + 1];
  let s = h - surface[i + width];
  let w = h - surface[i - 1];
  let n = h - surface[i - width];
  let se = h - surface[i + width + 1];
  let sw = h - surface[i + width - 1];
  let nw = h - surface[i - width - 1];
  let ne = h - surface[i - width + 1];
  e += Math.abs(e);
  s += Math.abs(s);
  w += Math.abs(w);
  n += Math.abs(n);
  se += Math.abs(se);
  sw += Math.abs(sw);
  nw += Math.abs(nw);
  ne += Math.abs(ne);
  const total = e + s + w + n + (se + sw + nw + ne) * Math.SQRT1_2;
  if (total === 0) return share[i + step];
  const straight =
    e * share[i + 1] + s * share[i + width] + w * share[i - 1] + n * share[i - width];
  const diagonal =
    se * share[i + width + 1] +
    sw * share[i + width - 1] +
    nw * share[i - width - 1] +
    ne * share[i - width + 1];
  return (straight + diagonal * Math.SQRT1_2) / total;
}
