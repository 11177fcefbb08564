import { faintness } from '../../../lib/drainage/answer/faint-low-spots';
import { listedLowSpots } from '../../../lib/drainage/answer/listed-low-spots';
import type { LowSpotRow } from '../../../lib/drainage/answer/drainage-result';
import type { ShapedGround } from '../../../lib/drainage/storm/shaped-ground';

/**
 * Where standing water is to be reckoned with, by cell: 1 in basins and in low spots that are neither shallower than the heights
 * can tell nor a few cells wide, 0 elsewhere.
 */
export function sureWater(
  { ground, terrain }: ShapedGround,
  rows: readonly LowSpotRow[],
): Uint8Array<ArrayBuffer> {
  const sure = new Uint8Array(terrain.z.length);
  const faint = new Set(
    rows.filter((row) => faintness(row, ground.grid.cellM) !== null).map(({ id }) => id),
  );
  for (const { key, cells } of listedLowSpots(ground, terrain)) {
    if (!faint.has(key)) for (const cell of cells) sure[cell] = 1;
  }
  for (const { cells } of ground.basins) for (const cell of cells) sure[cell] = 1;
  return sure;
}
