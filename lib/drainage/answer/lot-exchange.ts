import type { Ledger } from './ledger';

/** Water of one storm that leaves one lot for another, or for ground on no lot. */
export interface Exchange {
  readonly from: string;
  /** Lot that the water steps on when it last leaves `from`; null for the street and all that is on no lot. */
  readonly to: string | null;
  readonly volume_m3: number;
}

/** Less than a tenth of a litre is a drop that the grid carries over the line. A choice. */
const leastM3 = 1e-4;

/**
 * Who sends how much water to whom: every pair of lots, and each lot and the rest, in one storm, the most first.
 *
 * Each row is the 'passed on to' of that lot's own ledger, so the two never disagree.
 *
 * @param ledgers - one for each lot.
 */
export function lotExchange(ledgers: readonly Ledger[]): Exchange[] {
  return ledgers
    .flatMap(({ lot: from, passed_on_to }) =>
      passed_on_to.map(({ lot, volume_m3 }) => ({ from, to: lot, volume_m3 })),
    )
    .filter((row) => row.volume_m3 >= leastM3)
    .sort((a, b) => b.volume_m3 - a.volume_m3);
}
