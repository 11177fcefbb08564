import { formatVolume } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import type { ShapedGround } from '../storm/shaped-ground';

/** What stands on the own lot when the event is over, but for what stands in basins. */
export interface StandingOnLot {
  /** All of it, m3: `standing_m3` of the lot's ledger. */
  readonly volume_m3: number;
  /** How many low spots worth listing hold some of it: those that `isOnLot` tells. */
  readonly low_spots: number;
  /** What of it stands in those, and what in puddles too small to be listed. */
  readonly in_low_spots_m3: number;
  readonly in_puddles_m3: number;
}

/** Of the water in a low spot what stands on the own lot. */
interface OnLot {
  readonly on_lot_m3: number;
}

/** A low spot with less of its water on the lot is not counted among those of the lot. Our choice, no source. */
const leastOnLotM3 = 0.01;

/** Whether a low spot counts among those that hold water on the own lot: some of its water stands there, wherever its deepest point is. */
export function isOnLot({ on_lot_m3 }: OnLot): boolean {
  return on_lot_m3 >= leastOnLotM3;
}

/**
 * Shares what stands on the lot among low spots and puddles.
 *
 * @param volumeM3 - `standing_m3` of the lot's ledger, or `standsOnLotM3` of the same depths.
 * @param rows - of the same storm.
 */
export function standingOnLot(volumeM3: number, rows: readonly OnLot[]): StandingOnLot {
  const listed = rows.filter(isOnLot);
  const inLowSpotsM3 = Math.min(
    volumeM3,
    listed.reduce((sum, { on_lot_m3 }) => sum + on_lot_m3, 0),
  );
  return {
    volume_m3: volumeM3,
    low_spots: listed.length,
    in_low_spots_m3: inLowSpotsM3,
    in_puddles_m3: volumeM3 - inLowSpotsM3,
  };
}

/** Water that stands on the own lot but for that in basins, from depths alone, m3; 0 without an own lot. Cost: O(cells of the lot). */
export function standsOnLotM3({ ground, cellM2 }: ShapedGround, depthM: Float32Array): number {
  const inBasin = basinCells(ground.basins);
  let sum = 0;
  for (const cell of ground.lots.find(({ own }) => own)?.cells ?? []) {
    if (!inBasin.has(cell)) sum += depthM[cell];
  }
  return sum * cellM2;
}

/** The cells of all basins. */
export function basinCells(basins: ShapedGround['ground']['basins']): ReadonlySet<number> {
  return new Set(basins.flatMap(({ cells }) => [...cells]));
}

/** What is too little to be worth a word, m3. */
const littleM3 = 0.0005;

/**
 * What stands on the lot in a sentence without its full stop.
 *
 * @param of - of what, for example 'a 40 mm storm'.
 * @param lot - what the lot is called.
 */
export function standingText(
  { volume_m3, low_spots, in_low_spots_m3, in_puddles_m3 }: StandingOnLot,
  of: string,
  lot: string,
  units: UnitSystem,
): string {
  if (volume_m3 < littleM3) return `Nothing of ${of} stands on ${lot}, what basins hold apart`;
  const write = (volumeM3: number): string => formatVolume(volumeM3, units, volume_m3);
  const spots = low_spots === 1 ? '1 low spot' : `${low_spots} low spots`;
  const where =
    low_spots === 0
      ? 'all in puddles too small to be listed'
      : in_puddles_m3 < littleM3
        ? `all in ${spots}`
        : `${write(in_low_spots_m3)} in ${spots}, ${formatVolume(in_puddles_m3, units)} in small puddles`;
  return `${write(volume_m3)} of ${of} stand on ${lot}, what basins hold apart: ${where}`;
}
