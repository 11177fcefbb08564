/**
 * Scores and metres nearer each other than this are equal. Places in the middle of a lot, and outlines that mirror each
 * other, are often as good as one another, and coordinates that are rounded otherwise must not choose between them.
 * Our choice, no source.
 */
const rounding = 1e-9;

/** Whether a value is larger by more than rounding. */
export function isMore(value: number, than: number): boolean {
  return value > than + rounding;
}

/** Sorts the largest first, what is equal up to rounding in the order it has. */
export function largestFirst(a: number, b: number): number {
  return Math.round(b / rounding) - Math.round(a / rounding);
}
