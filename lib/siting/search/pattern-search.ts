import { isMore } from '../rounding';

/** Where a search has come to. */
interface Found<T> {
  readonly at: readonly number[];
  readonly value: number;
  /** What the objective gave there. */
  readonly what: T;
  readonly tries: number;
}

/** One value of an objective with what it was read off. */
export interface Tried<T> {
  readonly value: number;
  readonly what: T;
}

export interface PatternOptions {
  /** How often steps are halved before the search ends. */
  readonly halvings: number;
  readonly triesAtMost: number;
  /** Called after each try. */
  readonly pause?: () => Promise<void>;
}

/**
 * Looks for a larger value without derivatives: a step both ways along each axis in turn, a longer step the same way
 * while that pays, and steps half as long when none does (pattern search after Hooke and Jeeves 1961, from memory).
 *
 * Deterministic; the value never falls. The end is a point from which no last step along an axis is better, not surely
 * the best of all.
 *
 * @param objective - `null` where there is no value: such points are never entered.
 */
export async function patternSearch<T>(
  objective: (at: readonly number[]) => Tried<T> | null,
  start: readonly number[],
  begun: Tried<T>,
  steps: readonly number[],
  { halvings, triesAtMost, pause }: PatternOptions,
): Promise<Found<T>> {
  let best: Found<T> = { at: start, ...begun, tries: 0 };
  let tries = 0;
  const attempt = async (at: readonly number[]): Promise<boolean> => {
    if (tries >= triesAtMost) return false;
    tries++;
    const tried = objective(at);
    await pause?.();
    if (tried === null || !isMore(tried.value, best.value)) return false;
    best = { at, ...tried, tries };
    return true;
  };
  for (let halved = 0, scale = 1; halved <= halvings && tries < triesAtMost;) {
    const from = best.at;
    for (let axis = 0; axis < steps.length; axis++) {
      const stepped = (sign: number): number[] =>
        best.at.map((value, i) => (i === axis ? value + sign * scale * steps[axis] : value));
      if (!(await attempt(stepped(1)))) await attempt(stepped(-1));
    }
    if (best.at === from) {
      halved++;
      scale /= 2;
      continue;
    }
    // On along the way that has just paid.
    for (let last = from; ;) {
      const here = best.at;
      if (!(await attempt(here.map((value, i) => 2 * value - last[i])))) break;
      last = here;
    }
  }
  return { ...best, tries };
}
