import { neighbourOffsets, NONE } from './neighbours';
import type { Routing } from './routing';

/**
 * Where a cell's water goes next and in what shares, one cell at a time: for sweeps that do more with a share than add
 * it up. Those that only add have the same weights written out in their loops (`spread-flow.ts`, `share-sweep.ts`).
 */
export class Receivers {
  /** Cells that the last cell asked about gives water to, and the shares, which add up to 1. */
  readonly cells = new Int32Array(8);
  readonly shares = new Float64Array(8);
  readonly #routing: Routing;
  readonly #offsets: Int32Array;

  constructor(routing: Routing) {
    this.#routing = routing;
    this.#offsets = neighbourOffsets(routing.terrain.width);
  }

  /** How many cells a cell of open ground gives water to: none where it leaves the map or there is no data. */
  of(cell: number): number {
    const { terrain } = this.#routing;
    const { cells, shares } = this;
    const offsets = this.#offsets;
    const code = terrain.receiver[cell];
    if (code >= NONE) return 0;
    const count = this.#routing.rule === 'facet' ? this.#onFacet(cell) : this.#lower(cell);
    if (count > 0) return count;
    cells[0] = cell + offsets[code];
    shares[0] = 1;
    return 1;
  }

  /** All lower neighbours, in proportion to slope. */
  #lower(cell: number): number {
    const { surface } = this.#routing;
    const { cells, shares } = this;
    const offsets = this.#offsets;
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
    for (let k = 0; k < count; k++) shares[k] /= total;
    return count;
  }

  /**
   * The straight and the diagonal neighbour that bound the steepest of the eight facets around a cell, in the shares that
   * keep the facet's direction: after Tarboton (1997), Water Resources Research 33, 309 (from memory), but by slopes and not by angles.
   */
  #onFacet(cell: number): number {
    const { surface } = this.#routing;
    const { cells, shares } = this;
    const offsets = this.#offsets;
    const own = surface[cell];
    let steepest = 0;
    let count = 0;
    for (let straight = 0; straight < 8; straight += 2) {
      const near = surface[cell + offsets[straight]];
      for (const diagonal of [straight + 1, (straight + 7) % 8]) {
        const along = own - near;
        const aside = near - surface[cell + offsets[diagonal]];
        const part = along > 0 ? Math.min(1, Math.max(0, aside / along)) : aside > 0 ? 1 : 0;
        const slope = part === 1 ? (along + aside) * Math.SQRT1_2 : Math.hypot(along, part * along);
        if (!(slope > steepest) || !(part === 1 || along > 0)) continue;
        steepest = slope;
        count = 0;
        if (part < 1) {
          cells[count] = cell + offsets[straight];
          shares[count++] = 1 - part;
        }
        if (part > 0) {
          cells[count] = cell + offsets[diagonal];
          shares[count++] = part;
        }
      }
    }
    return count;
  }
}
