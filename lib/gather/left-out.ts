/** Why shapes were left out, counted. */
export class LeftOut {
  readonly #counts = new Map<string, number>();

  add(why: string): void {
    this.#counts.set(why, (this.#counts.get(why) ?? 0) + 1);
  }

  rows(): { why: string; count: number }[] {
    return [...this.#counts].map(([why, count]) => ({ why, count }));
  }
}
