/** What {@link fillHoles} did. */
export interface FilledHoles {
  /** 1 where a cell was filled, else 0; null when none was. */
  readonly mask: Uint8Array | null;
  readonly count: number;
  readonly areaM2: number;
  /** Holes inside the data that were too large and stay as they are. */
  readonly leftCount: number;
  readonly leftAreaM2: number;
}

/** The membrane counts as at rest when no cell moves more than this in a round. */
const AT_REST_M = 1e-5;
const MOST_ROUNDS = 2000;

/**
 * Fills small holes in place: groups of no-data cells (joined by sides or corners) that do not touch the
 * grid's border and are no larger than a limit.
 *
 * Each takes the shape of a soap film hung on the cells around it (every filled cell is the mean of its four
 * neighbours), so it stays between the lowest and the highest of its rim and makes no low spot of its own.
 *
 * @param z - heights, row-major; `NaN` is no data. Small holes are filled in place.
 * @param limitM2 - largest area of a hole that is filled.
 * Cost: linear in the cells, plus rounds over the few filled ones.
 */
export function fillHoles(
  z: Float32Array,
  width: number,
  height: number,
  cellM: number,
  limitM2: number,
): FilledHoles {
  const cellM2 = cellM * cellM;
  const seen = new Uint8Array(z.length);
  const stack: number[] = [];
  let mask: Uint8Array | null = null;
  let count = 0;
  let cells = 0;
  let leftCount = 0;
  let leftCells = 0;
  for (let start = 0; start < z.length; start++) {
    if (seen[start] === 1 || !Number.isNaN(z[start])) continue;
    const hole: number[] = [];
    let size = 0;
    let touchesBorder = false;
    seen[start] = 1;
    stack.push(start);
    while (stack.length > 0) {
      const cell = stack.pop()!;
      const row = Math.floor(cell / width);
      const column = cell - row * width;
      size++;
      if (size * cellM2 <= limitM2) hole.push(cell);
      if (row === 0 || column === 0 || row === height - 1 || column === width - 1) {
        touchesBorder = true;
      }
      for (let r = Math.max(row - 1, 0); r <= Math.min(row + 1, height - 1); r++) {
        for (let c = Math.max(column - 1, 0); c <= Math.min(column + 1, width - 1); c++) {
          const other = r * width + c;
          if (seen[other] === 1 || !Number.isNaN(z[other])) continue;
          seen[other] = 1;
          stack.push(other);
        }
      }
    }
    if (touchesBorder) continue;
    if (size * cellM2 > limitM2) {
      leftCount++;
      leftCells += size;
      continue;
    }
    mask ??= new Uint8Array(z.length);
    for (const cell of hole) mask[cell] = 1;
    stretchFilm(z, width, hole);
    count++;
    cells += size;
  }
  return {
    mask,
    count,
    areaM2: cells * cellM2,
    leftCount,
    leftAreaM2: leftCells * cellM2,
  };
}

/** Solves for the film over one hole: starts from the mean of its rim and averages until nothing moves. */
function stretchFilm(z: Float32Array, width: number, hole: readonly number[]): void {
  let sum = 0;
  let rim = 0;
  for (const cell of hole) {
    for (const step of [1, -1, width, -width]) {
      const value = z[cell + step];
      if (Number.isNaN(value)) continue;
      sum += value;
      rim++;
    }
  }
  for (const cell of hole) z[cell] = sum / rim;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let moved = 0;
    for (const cell of hole) {
      const mean = (z[cell - 1] + z[cell + 1] + z[cell - width] + z[cell + width]) / 4;
      moved = Math.max(moved, Math.abs(mean - z[cell]));
      z[cell] = mean;
    }
    if (moved < AT_REST_M) return;
  }
}
