import { COLUMN_STEP, NONE, ROW_STEP, neighbourOffsets } from '../../drainage/terrain/neighbours';
import { Receivers } from '../../drainage/terrain/receivers';
import type { Routing } from '../../drainage/terrain/routing';

/**
 * How much of each cell's water reaches a target, as `contributingShare` and `stormShare` find it, but looking only at
 * cells upstream of the target: for something as small as a basin a fraction of the ground.
 *
 * The cells upstream are gathered against the flow, put in the order in which water passes them, and each cell's share is
 * the mean of its receivers' shares, weighted as its water is. What large low spots spill over their brims is not followed.
 */
export class UpstreamShare {
  /** Share of each cell's water that reaches the last target with every low spot full, 0-1; 0 everywhere but at `cells`. */
  readonly share: Float32Array;
  /** The same with ponds letting on only the part of their water that they are said to. */
  readonly stormShare: Float32Array;
  /** Cells whose share may be more than 0 for the last target, in no order that counts. */
  cells: Int32Array;
  readonly #found: Int32Array;
  /** Place of each cell in the order of flow, -1 without data. */
  readonly #placeOf: Int32Array;
  readonly #mark: Uint8Array;
  readonly #offsets: Int32Array;
  readonly #receivers: Receivers;
  /** The ponds whose way out is a cell. */
  readonly #pondsTo = new Map<number, number[]>();
  readonly #routing: Routing;
  readonly #passes: Float64Array;

  /**
   * @param passes - part of what comes to each pond that it lets on in the storm; all of it when not given.
   * Cost: linear in cells, once.
   */
  constructor(
    routing: Routing,
    passes: Float64Array = new Float64Array(routing.ponds.count + 1).fill(1),
  ) {
    this.#routing = routing;
    this.#passes = passes;
    const size = routing.surface.length;
    const { ponds, upstreamFirst, terrain } = routing;
    this.share = new Float32Array(size);
    this.stormShare = new Float32Array(size);
    this.#found = new Int32Array(size);
    this.cells = this.#found.subarray(0, 0);
    this.#mark = new Uint8Array(size);
    this.#offsets = neighbourOffsets(terrain.width);
    this.#receivers = new Receivers(routing);
    this.#placeOf = new Int32Array(size).fill(-1);
    upstreamFirst.forEach((cell, at) => {
      this.#placeOf[cell] = at;
    });
    for (let pond = 1; pond <= ponds.count; pond++) {
      const to = ponds.to[pond];
      if (to !== -1) this.#pondsTo.set(to, [...(this.#pondsTo.get(to) ?? []), pond]);
    }
  }

  /**
   * Finds the shares for a target.
   *
   * @param target - cells, those of the ponds that cover it among them (`targetWithPonds`).
   * @param ends - cells where water ends before it reaches the target, a basin above it for one.
   * Cost: linear in the cells upstream but for putting them in order.
   */
  of(target: ArrayLike<number>, ends: readonly ArrayLike<number>[] = []): void {
    const { share, stormShare } = this;
    const mark = this.#mark;
    const routing = this.#routing;
    const placeOf = this.#placeOf;
    for (const cell of this.cells) {
      share[cell] = 0;
      stormShare[cell] = 0;
    }
    for (const group of ends) for (let i = 0; i < group.length; i++) mark[group[i]] = ended;
    for (let i = 0; i < target.length; i++) mark[target[i]] = isTarget;
    const count = this.#gather(target);
    const upstream = this.#found.subarray(0, count);
    for (let i = 0; i < count; i++) upstream[i] = placeOf[upstream[i]];
    upstream.sort();
    const order = routing.upstreamFirst;
    for (let i = count - 1; i >= 0; i--) {
      const cell = order[upstream[i]];
      upstream[i] = cell;
      this.#settle(cell);
    }
    for (let i = 0; i < count; i++) mark[upstream[i]] = 0;
    for (const group of ends) for (let i = 0; i < group.length; i++) mark[group[i]] = 0;
    for (let i = 0; i < target.length; i++) mark[target[i]] = 0;
    this.cells = upstream;
  }

  /** Puts the target and all cells that give water to it, at whatever remove, into `found`; returns how many. */
  #gather(target: ArrayLike<number>): number {
    const found = this.#found;
    const mark = this.#mark;
    const placeOf = this.#placeOf;
    const offsets = this.#offsets;
    const pondsTo = this.#pondsTo;
    const { terrain, surface, ponds } = this.#routing;
    const { receiver, width, height } = terrain;
    let count = 0;
    for (let i = 0; i < target.length; i++) {
      if (placeOf[target[i]] !== -1) found[count++] = target[i];
    }
    for (let at = 0; at < count; at++) {
      const cell = found[at];
      const row = Math.floor(cell / width);
      const column = cell - row * width;
      for (const pond of pondsTo.get(cell) ?? []) {
        for (let k = ponds.start[pond]; k < ponds.start[pond + 1]; k++) {
          if (mark[ponds.cells[k]] !== 0) continue;
          mark[ponds.cells[k]] = isUpstream;
          found[count++] = ponds.cells[k];
        }
      }
      const onEdge = row === 0 || column === 0 || row === height - 1 || column === width - 1;
      for (let d = 0; d < 8; d++) {
        if (onEdge && leaves(row, column, d, width, height)) continue;
        const next = cell + offsets[d];
        if (mark[next] !== 0 || ponds.of[next] !== 0) continue;
        const code = receiver[next];
        if (code >= NONE) continue;
        if (surface[next] <= surface[cell] && next + offsets[code] !== cell) continue;
        mark[next] = isUpstream;
        found[count++] = next;
      }
    }
    return count;
  }

  /** Finds the share of a cell, those of its receivers being known. */
  #settle(cell: number): void {
    const { share, stormShare } = this;
    const receivers = this.#receivers;
    if (this.#mark[cell] === isTarget) {
      share[cell] = 1;
      stormShare[cell] = 1;
      return;
    }
    const { of, to } = this.#routing.ponds;
    const pond = of[cell];
    if (pond !== 0) {
      if (to[pond] === -1) return;
      share[cell] = share[to[pond]];
      stormShare[cell] = this.#passes[pond] * stormShare[to[pond]];
      return;
    }
    const count = receivers.of(cell);
    let all = 0;
    let inStorm = 0;
    for (let k = 0; k < count; k++) {
      all += receivers.shares[k] * share[receivers.cells[k]];
      inStorm += receivers.shares[k] * stormShare[receivers.cells[k]];
    }
    share[cell] = all;
    stormShare[cell] = inStorm;
  }
}

const isUpstream = 1;
const isTarget = 2;
const ended = 3;

/** Whether the neighbour in a direction lies beyond the edge. */
function leaves(row: number, column: number, d: number, width: number, height: number): boolean {
  const r = row + ROW_STEP[d];
  const c = column + COLUMN_STEP[d];
  return r < 0 || c < 0 || r >= height || c >= width;
}
