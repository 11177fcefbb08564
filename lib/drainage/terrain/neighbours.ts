/**
 * Direction codes of single flow. 0 to 7 are the neighbours in the grid's numbering (0 E, then
 * clockwise to 7 NE); two more say that water goes to no neighbour.
 */

/** No receiver: a pit, or a cell without data. */
export const NONE = 8;

/** Water leaves the map here: a cell on the map's border, or beside a cell without data. */
export const LEAVES = 9;

/** Columns to go for each direction code. */
export const COLUMN_STEP: readonly number[] = [1, 1, 0, -1, -1, -1, 0, 1, 0, 0];

/** Rows to go for each direction code, southwards positive. */
export const ROW_STEP: readonly number[] = [0, 1, 1, 1, 0, -1, -1, -1, 0, 0];

/** Index offsets for each direction code; 0 for {@link NONE} and {@link LEAVES}. */
export function neighbourOffsets(width: number): Int32Array {
  return Int32Array.from(COLUMN_STEP, (column, code) => column + ROW_STEP[code] * width);
}

/** Inverse of a step's length in cells for each neighbour: 1 or the square root of a half. */
export const INVERSE_STEP: readonly number[] = [0, 1, 2, 3, 4, 5, 6, 7].map((code) =>
  code % 2 === 0 ? 1 : Math.SQRT1_2,
);
