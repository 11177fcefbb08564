import { neighbourOffsets } from '../../../lib/drainage/terrain/neighbours';
import { leavesAt, neighboursOf, type SmallGround } from './grounds';

/**
 * Standing water by moving one parcel of water after another: down the receivers to the first water
 * or pit, then into the pool there, which is flooded out around the spot, raised to the lowest point
 * of its rim, and left over the rim with what remains. Knows nothing of catchments, trees or passes.
 *
 * Needs heights that are all different; `receiver` is only used to walk downhill.
 */
export class Parcels {
  /** Height of the water, or of the ground where it is dry. */
  readonly surface: Float64Array;
  outflow = 0;
  readonly #offsets: Int32Array;

  constructor(
    readonly ground: SmallGround,
    readonly receiver: Uint8Array,
  ) {
    this.surface = Float64Array.from(ground.z);
    this.#offsets = neighbourOffsets(ground.width);
  }

  drop(start: number, amount: number): void {
    let left = amount;
    let cell = start;
    while (left > 0) {
      cell = this.#walk(cell);
      if (leavesAt(this.ground, cell)) {
        this.outflow += left;
        return;
      }
      const level = this.surface[cell];
      const pool = this.#flood(cell, level);
      const over = this.#wayOver(pool, level);
      if (over !== undefined) {
        cell = over;
        continue;
      }
      const rim = this.#lowestAround(pool);
      const room = pool.size * (rim - level);
      const reached = left < room ? level + left / pool.size : rim;
      for (const wet of pool) this.surface[wet] = reached;
      left -= Math.min(left, room);
    }
  }

  #walk(start: number): number {
    let cell = start;
    while (this.receiver[cell] < 8 && this.surface[cell] === this.ground.z[cell]) {
      cell += this.#offsets[this.receiver[cell]];
    }
    return cell;
  }

  /** Cells connected to a cell at or below a level. */
  #flood(start: number, level: number): Set<number> {
    const found = new Set([start]);
    for (const cell of found) {
      if (this.surface[cell] < level) continue;
      for (const next of neighboursOf(this.ground, cell)) {
        if (this.surface[next] <= level) found.add(next);
      }
    }
    return found;
  }

  /** Where water at a level runs out of the flooded cells, if anywhere. */
  #wayOver(flooded: Set<number>, level: number): number | undefined {
    for (const cell of flooded) {
      if (this.surface[cell] < level) continue;
      if (leavesAt(this.ground, cell)) return cell;
      const lower = neighboursOf(this.ground, cell).filter((next) => this.surface[next] < level);
      if (lower.length === 0) continue;
      const receiver = cell + this.#offsets[this.receiver[cell]];
      if (lower.includes(receiver)) return receiver;
      return lower.reduce((a, b) => (this.#slope(cell, b) > this.#slope(cell, a) ? b : a));
    }
    return undefined;
  }

  #slope(from: number, to: number): number {
    const { z, width } = this.ground;
    const isStraight = from % width === to % width || Math.abs(from - to) === 1;
    return (z[from] - z[to]) * (isStraight ? 1 : Math.SQRT1_2);
  }

  #lowestAround(pool: Set<number>): number {
    let lowest = Infinity;
    for (const cell of pool) {
      for (const next of neighboursOf(this.ground, cell)) {
        if (!pool.has(next)) lowest = Math.min(lowest, this.surface[next]);
      }
    }
    return lowest;
  }
}
