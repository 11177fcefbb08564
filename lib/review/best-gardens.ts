import type { Steps } from '../drainage/steps';

/** What a set of gardens comes to, all dug. */
export interface GardenWorth {
  /** Whether any lot is worse off. */
  readonly harms: boolean;
  /** Water near walls that is no longer there, m3. */
  readonly wallsM3: number;
  /** Water that no longer leaves the lots, m3. */
  readonly keptM3: number;
}

/** A set of gardens that harms nobody, neither when all are dug nor on the way there. */
export interface BestGardens {
  /** In an order of building in which nobody is ever worse off. */
  readonly gardens: readonly number[];
  readonly worth: GardenWorth;
  /** Whether all sets were tried; else better ones may have been missed. */
  readonly exhaustive: boolean;
  /** Sets that were tried. */
  readonly tried: number;
}

/** Up to so many gardens all sets are tried. */
export const mostExhaustive = 8;
/** Differences below this are rounding, m3. */
const sameM3 = 1e-6;

/** Whether one set is to be preferred: drier walls first, then more water kept. */
export function isBetter(a: GardenWorth, b: GardenWorth): boolean {
  const walls = a.wallsM3 - b.wallsM3;
  return Math.abs(walls) > sameM3 ? walls > 0 : a.keptM3 - b.keptM3 > sameM3;
}

/**
 * The best gardens that a budget pays for, of some that are proposed.
 *
 * Harm at a place is not a sum over gardens: two may help, or harm, only together. So up to eight gardens every set is
 * tried; of more the sets are grown from the best single and the best pair, shrunk from all, and both improved by swaps.
 *
 * @param costs - of each garden, in the unit of the budget.
 * @param worthOf - of gardens by index, ascending; asked once for each set.
 * @returns null where no set that harms nobody does any good.
 */
export function* bestGardens(
  costs: readonly number[],
  budget: number,
  worthOf: (gardens: readonly number[]) => GardenWorth,
): Steps<BestGardens | null> {
  const search = new GardenSearch(costs, budget, worthOf);
  const exhaustive = costs.length <= mostExhaustive;
  if (exhaustive) yield* search.all();
  else yield* search.some();
  const found = search.best;
  return found === null ? null : { ...found, exhaustive, tried: search.tried };
}

class GardenSearch {
  best: { readonly gardens: readonly number[]; readonly worth: GardenWorth } | null = null;
  readonly #known = new Map<string, GardenWorth>();
  readonly #costs: readonly number[];
  readonly #budget: number;
  readonly #worthOf: (gardens: readonly number[]) => GardenWorth;

  constructor(
    costs: readonly number[],
    budget: number,
    worthOf: (gardens: readonly number[]) => GardenWorth,
  ) {
    this.#costs = costs;
    this.#budget = budget;
    this.#worthOf = worthOf;
  }

  get tried(): number {
    return this.#known.size;
  }

  *all(): Steps<void> {
    const sets = 2 ** this.#costs.length;
    for (let bits = 1; bits < sets; bits++) {
      yield { fraction: bits / sets, stage: 'Trying gardens together' };
      this.#consider(this.#costs.flatMap((_, i) => ((bits >> i) & 1 ? [i] : [])));
    }
  }

  *some(): Steps<void> {
    const indices = this.#costs.map((_, i) => i);
    const pairs = indices.flatMap((a) => indices.filter((b) => b > a).map((b) => [a, b]));
    const small = [...indices.map((i) => [i]), ...pairs];
    for (const [at, set] of small.entries()) {
      yield { fraction: (0.4 * at) / small.length, stage: 'Trying gardens by ones and twos' };
      this.#consider(set);
    }
    for (const start of [this.#bestOf(indices.map((i) => [i])), this.#bestOf(pairs), indices]) {
      yield* this.#climb(start);
    }
  }

  /** Adds, takes out and swaps one garden at a time while that helps. */
  *#climb(start: readonly number[]): Steps<void> {
    let at = start;
    for (let better = true; better;) {
      better = false;
      for (const next of this.#around(at)) {
        yield { fraction: 0.7, stage: 'Trying gardens in place of others' };
        this.#consider(next);
        if (!this.#improves(next, at)) continue;
        at = next;
        better = true;
        break;
      }
    }
  }

  #improves(next: readonly number[], at: readonly number[]): boolean {
    const [is, was] = [this.#worth(next), this.#worth(at)];
    const allowed = !is.harms && this.#isPaidFor(next);
    const wasAllowed = !was.harms && this.#isPaidFor(at);
    if (allowed !== wasAllowed) return allowed;
    // from what is not allowed the way down is to fewer gardens
    return allowed ? isBetter(is, was) : next.length < at.length;
  }

  #around(at: readonly number[]): number[][] {
    const out = this.#costs.flatMap((_, i) => (at.includes(i) ? [] : [i]));
    const sorted = (set: readonly number[]): number[] => [...set].sort((a, b) => a - b);
    return [
      ...out.map((i) => sorted([...at, i])),
      ...at.map((i) => at.filter((j) => j !== i)),
      ...at.flatMap((i) => out.map((j) => sorted([...at.filter((k) => k !== i), j]))),
    ].filter((set) => set.length > 0);
  }

  #bestOf(sets: readonly (readonly number[])[]): readonly number[] {
    return sets.reduce((best, set) => (this.#improves(set, best) ? set : best));
  }

  #isPaidFor(set: readonly number[]): boolean {
    return set.reduce((sum, i) => sum + this.#costs[i], 0) <= this.#budget;
  }

  #worth(set: readonly number[]): GardenWorth {
    if (set.length === 0) return { harms: false, wallsM3: 0, keptM3: 0 };
    const key = set.join();
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    const worth = this.#worthOf(set);
    this.#known.set(key, worth);
    return worth;
  }

  #consider(set: readonly number[]): void {
    if (!this.#isPaidFor(set)) return;
    const worth = this.#worth(set);
    const floor = this.best?.worth ?? { harms: false, wallsM3: 0, keptM3: 0 };
    if (worth.harms || !isBetter(worth, floor)) return;
    const gardens = this.#order(set);
    if (gardens !== null) this.best = { gardens, worth };
  }

  /** An order of building in which nobody is ever worse off; null when there is none. */
  #order(set: readonly number[]): readonly number[] | null {
    if (set.length === 0) return [];
    if (this.#worth(set).harms) return null;
    for (const last of set) {
      const before = this.#order(set.filter((i) => i !== last));
      if (before !== null) return [...before, last];
    }
    return null;
  }
}
