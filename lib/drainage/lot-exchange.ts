import { followLot, type Displaced } from './lot-ledger';
import type { ShapedGround } from './shaped-ground';
import type { StormOnGround } from './storm-on-ground';
import { elsewhere } from './ledger';

/** Water of one storm that leaves one lot for another, or for ground on no lot. */
export interface Exchange {
  readonly from: string;
  /** Lot that the water steps on when it last leaves `from`; null for the street and all that is on no lot. */
  readonly to: string | null;
  readonly to_name: string;
  readonly volume_m3: number;
}

/** Volumes below this are drops carried over the line by the grid, m3. A choice. */
const leastM3 = 1e-4;

/**
 * Who sends how much water to whom: every pair of lots, and each lot and the rest, in one storm.
 *
 * @param displaced - for each lot the roof water put down on the other side of its line, as the ledger takes it.
 * Cost: O(n) for each lot.
 */
export function lotExchange(
  shape: ShapedGround,
  storm: StormOnGround,
  displaced: readonly Displaced[],
): Exchange[] {
  const { lots, lotOf } = shape.ground;
  const rows: Exchange[] = [];
  lots.forEach((lot, index) => {
    const { passedOnM3 } = followLot(
      storm.flow,
      storm.pools,
      lotOf,
      index,
      lots.length,
      storm.depthM,
      displaced,
    );
    passedOnM3.forEach((volume_m3, to) => {
      if (volume_m3 < leastM3) return;
      rows.push({
        from: lot.id,
        to: lots[to]?.id ?? null,
        to_name: lots[to]?.name ?? elsewhere,
        volume_m3,
      });
    });
  });
  return rows.sort((a, b) => b.volume_m3 - a.volume_m3);
}
