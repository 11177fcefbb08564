import type { Ledger } from './ledger';

/** Water of one storm that crosses the line from one lot to another, or to ground on no lot; what only winds over the line from cell to cell is left out. */
export interface Exchange {
  readonly from: string;
  /** The lot on the other side; null for the street and all that is on no lot, and off the data. */
  readonly to: string | null;
  readonly volume_m3: number;
  /** Less what comes back over the same line; of two lots one is the other with its sign turned. */
  readonly net_m3: number;
}

/** Less than a tenth of a litre is a drop that the grid carries over the line. A choice. */
const leastM3 = 1e-4;

/**
 * Who sends how much water to whom: every pair of lots, and each lot and the rest, in one storm, the most first.
 *
 * Each row is what the one lot's ledger has as passed on and the other's as run-on: both are drawn up from the same lines.
 *
 * @param ledgers - one for each lot.
 */
export function lotExchange(ledgers: readonly Ledger[]): Exchange[] {
  return ledgers
    .flatMap(({ lot: from, passed_on_to, run_on_from }) => {
      const back = new Map(run_on_from.map(({ lot, volume_m3 }) => [lot, volume_m3]));
      return passed_on_to.map(({ lot: to, volume_m3 }) => ({
        from,
        to,
        volume_m3,
        net_m3: volume_m3 - (back.get(to) ?? 0),
      }));
    })
    .filter((row) => row.volume_m3 >= leastM3)
    .sort((a, b) => b.volume_m3 - a.volume_m3);
}
