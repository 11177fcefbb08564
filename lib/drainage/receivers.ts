import { neighbourOffsets, NONE } from './neighbours';
import type { Routing } from './routing';

/**
 * Where a cell's water goes next and in what shares, one cell at a time: for sweeps that do more with a share than add
 * it up. Those that only add have the same weights written out in their loops (`spread-flow.ts`, `reaching-share.ts`).
 */
export class Receivers {
  /** Cells that the last cell asked about gives water to, and the shares, which add up to 1. */
  readonly cells = new Int32Array(8);
  readonly shares = new Float64Array(8);
  private readonly offsets: Int32Array;

  constructor(private readonly routing: Routing) {
    this.offsets = neighbourOffsets(routing.terrain.width);
  }

  /** How many cells a cell of open ground gives water to: none where it leaves the map or there is no data. */
  of(cell: number): number {
    const { surface, terrain } = this.routing;
    const { cells, shares, offsets } = this;
    const code = terrain.receiver[cell];
    if (code >= NONE) return 0;
    const own = surface[cell];
    let count = 0;
    let total = 0;
    for (let d = 0; d < 8; d++) {
      const next = cell + offsets[d];
      const fall = own - surface[next];
      if (!(fall > 0)) continue;
      const weight = (d & 1) === 0 ? fall : fall * Math.SQRT1_2;
      cells[count] = next;
      shares[count++] = weight;
      total += weight;
    }
    if (count === 0) {
      cells[0] = cell + offsets[code];
      shares[0] = 1;
      return 1;
    }
    for (let k = 0; k < count; k++) shares[k] /= total;
    return count;
  }
}
