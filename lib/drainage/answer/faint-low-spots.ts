import type { LowSpotRow } from './drainage-result';

/** A low spot of fewer cells is as likely a stone, a rut or a slip of the survey as a hollow. Our choice, no source. */
export const fewestCells = 8;

/** Why a low spot is no more than a hint: its depth could be the error of the heights, or it is a few cells wide. */
export type Faintness = 'shallow' | 'small';

/** Why a low spot is only a hint; null where it is to be reckoned with. */
export function faintness(
  { doubtful, area_m2 }: Pick<LowSpotRow, 'doubtful' | 'area_m2'>,
  cellM: number,
): Faintness | null {
  if (doubtful) return 'shallow';
  return area_m2 < fewestCells * cellM * cellM ? 'small' : null;
}
