/** A heap of numbered things by a cost each, the least first. */
export class Heap {
  readonly #items: number[] = [];
  readonly #cost: (item: number) => number;

  constructor(cost: (item: number) => number) {
    this.#cost = cost;
  }

  push(item: number): void {
    const items = this.#items;
    let at = items.push(item) - 1;
    const cost = this.#cost(item);
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (this.#cost(items[above]) <= cost) break;
      items[at] = items[above];
      at = above;
    }
    items[at] = item;
  }

  /** The thing of least cost, taken out; -1 when there is none. */
  pop(): number {
    const items = this.#items;
    if (items.length === 0) return -1;
    const first = items[0];
    const last = items.pop() ?? -1;
    if (items.length === 0) return first;
    const cost = this.#cost(last);
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= items.length) break;
      if (below + 1 < items.length && this.#cost(items[below + 1]) < this.#cost(items[below])) {
        below++;
      }
      if (this.#cost(items[below]) >= cost) break;
      items[at] = items[below];
      at = below;
    }
    items[at] = last;
    return first;
  }
}
