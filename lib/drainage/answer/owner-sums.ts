/**
 * Sums by row and owner, most rows having one owner alone: the first owner of a row stands in arrays, others in a map, so that
 * memory goes with the rows and not with rows times owners.
 */
export class OwnerSums {
  readonly #first: Int32Array;
  readonly #firstSum: Float64Array;
  readonly #more = new Map<number, Map<number, number>>();

  constructor(rows: number) {
    this.#first = new Int32Array(rows).fill(-1);
    this.#firstSum = new Float64Array(rows);
  }

  add(row: number, owner: number, value: number): void {
    if (this.#first[row] === -1) this.#first[row] = owner;
    if (this.#first[row] === owner) {
      this.#firstSum[row] += value;
      return;
    }
    let more = this.#more.get(row);
    if (more === undefined) {
      more = new Map();
      this.#more.set(row, more);
    }
    more.set(owner, (more.get(owner) ?? 0) + value);
  }

  /** Calls back with each owner of a row and its sum, in the order in which they came. */
  each(row: number, callback: (owner: number, sum: number) => void): void {
    if (this.#first[row] === -1) return;
    callback(this.#first[row], this.#firstSum[row]);
    this.#more.get(row)?.forEach((sum, owner) => {
      callback(owner, sum);
    });
  }

  /** As {@link each}, and forgets the row, which may be added to again. */
  take(row: number, callback: (owner: number, sum: number) => void): void {
    const first = this.#first[row];
    if (first === -1) return;
    const sum = this.#firstSum[row];
    const more = this.#more.get(row);
    this.#first[row] = -1;
    this.#firstSum[row] = 0;
    if (more !== undefined) this.#more.delete(row);
    callback(first, sum);
    more?.forEach((value, owner) => {
      callback(owner, value);
    });
  }
}
