import { COLUMN_STEP, NONE, ROW_STEP, neighbourOffsets } from '../drainage/neighbours';
import type { Routing } from '../drainage/routing';

/**
 * How much of each cell's water reaches a target, as `contributingShare` finds it, but looking only at cells upstream
 * of the target: for something as small as a basin a fraction of the ground.
 *
 * The cells upstream are gathered against the flow, put in the order in which water passes them, and each cell's share is
 * the mean of its receivers' shares, weighted as its water is.
 */
export class UpstreamShare {
  /** Share of each cell's water that reaches the last target, 0-1; 0 everywhere but at `cells`. */
  readonly share: Float32Array;
  /** Cells whose share may be more than 0 for the last target, in no order that counts. */
  cells: Int32Array;
  private readonly found: Int32Array;
  /** Place of each cell in the order of flow, -1 without data. */
  private readonly placeOf: Int32Array;
  private readonly mark: Uint8Array;
  private readonly offsets: Int32Array;

  /** Cost: linear in cells, once. */
  constructor(private readonly routing: Routing) {
    const size = routing.directions.length;
    this.share = new Float32Array(size);
    this.found = new Int32Array(size);
    this.cells = this.found.subarray(0, 0);
    this.mark = new Uint8Array(size);
    this.offsets = neighbourOffsets(routing.terrain.width);
    this.placeOf = new Int32Array(size).fill(-1);
    routing.upstreamFirst.forEach((cell, at) => {
      this.placeOf[cell] = at;
    });
  }

  /**
   * Finds the shares for a target.
   *
   * @param ends - cells where water ends before it reaches the target, a basin above it for one.
   * Cost: linear in the cells upstream but for putting them in order.
   */
  of(target: ArrayLike<number>, ends: readonly ArrayLike<number>[] = []): void {
    const { share, mark, routing, placeOf } = this;
    for (const cell of this.cells) share[cell] = 0;
    for (const group of ends) for (let i = 0; i < group.length; i++) mark[group[i]] = ended;
    for (let i = 0; i < target.length; i++) mark[target[i]] = isTarget;
    const count = this.gather(target);
    const upstream = this.found.subarray(0, count);
    for (let i = 0; i < count; i++) upstream[i] = placeOf[upstream[i]];
    upstream.sort();
    const order = routing.upstreamFirst;
    for (let i = count - 1; i >= 0; i--) {
      const cell = order[upstream[i]];
      upstream[i] = cell;
      share[cell] = mark[cell] === isTarget ? 1 : this.shareOf(cell);
    }
    for (let i = 0; i < count; i++) mark[upstream[i]] = 0;
    for (const group of ends) for (let i = 0; i < group.length; i++) mark[group[i]] = 0;
    for (let i = 0; i < target.length; i++) mark[target[i]] = 0;
    this.cells = upstream;
  }

  /** Puts the target and all cells that give water to it, at whatever remove, into `found`; returns how many. */
  private gather(target: ArrayLike<number>): number {
    const { found, mark, placeOf, offsets } = this;
    const { terrain, directions } = this.routing;
    const { filled, width, height } = terrain;
    let count = 0;
    for (let i = 0; i < target.length; i++) {
      if (placeOf[target[i]] !== -1) found[count++] = target[i];
    }
    for (let at = 0; at < count; at++) {
      const cell = found[at];
      const row = Math.floor(cell / width);
      const column = cell - row * width;
      const onEdge = row === 0 || column === 0 || row === height - 1 || column === width - 1;
      for (let d = 0; d < 8; d++) {
        if (onEdge && leaves(row, column, d, width, height)) continue;
        const next = cell + offsets[d];
        if (mark[next] !== 0) continue;
        const code = directions[next];
        if (code >= NONE) continue;
        if (filled[next] <= filled[cell] && next + offsets[code] !== cell) continue;
        mark[next] = isUpstream;
        found[count++] = next;
      }
    }
    return count;
  }

  private shareOf(i: number): number {
    const { share, routing } = this;
    const { filled, width } = routing.terrain;
    const h = filled[i];
    let total = 0;
    let sum = 0;
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        const next = i + dy * width + dx;
        const fall = h - filled[next];
        if (!(fall > 0)) continue;
        const weight = dx !== 0 && dy !== 0 ? fall * Math.SQRT1_2 : fall;
        total += weight;
        sum += weight * share[next];
      }
    }
    return total === 0 ? share[i + this.offsets[routing.directions[i]]] : sum / total;
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
