import type { Grid } from '../../elevation/grid';
import type { Ground } from '../../ground/ground';
import { lowSpots, type LowSpot } from './low-spots';
import type { BareTerrain } from '../terrain/terrain';

/** Low spots shallower or smaller than these are the roughness of a lawn and are not listed. Our choice, no source. */
export const worthListing = { minDepthM: 0.03, minAreaM2: 1.5 } as const;

/** A low spot that is worth listing. */
export interface ListedLowSpot extends LowSpot {
  /** Named for where it lies, so that it keeps its name while the ground elsewhere changes. */
  readonly key: string;
  /** What people call it by, from 1. */
  readonly number: number;
  /** Whether buildings close it in, so that it has no brim which depth and volume could be told from. */
  readonly enclosed: boolean;
}

/**
 * The low spots of a ground that are worth listing, in the order of their numbers: open ones first, the largest volume
 * first. Whatever speaks of a low spot to people calls it by this number.
 */
export function listedLowSpots(
  { grid, obstacle }: Pick<Ground, 'grid' | 'obstacle'>,
  terrain: BareTerrain,
): ListedLowSpot[] {
  return lowSpots(terrain, { cellAreaM2: grid.cellM ** 2, ...worthListing })
    .map((spot) => ({
      ...spot,
      key: keyOf(grid, spot),
      enclosed: obstacle[spot.spillCell] === 1,
    }))
    .sort((a, b) => Number(a.enclosed) - Number(b.enclosed))
    .map((spot, i) => ({ ...spot, number: i + 1 }));
}

/** What a low spot is called. */
export function lowSpotName(number: number): string {
  return `low spot ${number}`;
}

function keyOf(grid: Grid, { pitCell }: LowSpot): string {
  const row = Math.floor(pitCell / grid.width);
  return `low-${pitCell - row * grid.width}-${row}`;
}
