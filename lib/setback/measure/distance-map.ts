/** For every cell of a raster, how far the nearest marked cell is and which it is. */
export interface DistanceMap {
  /** Distance between centres in cells; `Infinity` where nothing is marked. */
  readonly cells: Float32Array<ArrayBuffer>;
  /** Index of the nearest marked cell, -1 where nothing is marked. */
  readonly nearest: Int32Array<ArrayBuffer>;
}

/**
 * Exact Euclidean distances from every cell to the nearest cell for which `marked` is not 0.
 *
 * Columns first, by two sweeps, then each row as the lower envelope of parabolas.
 *
 * Cost: linear in cells, 8 bytes each beside the output.
 * Source: Felzenszwalb and Huttenlocher (2012), Theory of Computing 8, 415-428 (from memory).
 */
export function distanceMap(marked: Uint8Array, width: number, height: number): DistanceMap {
  const up = nearestInColumns(marked, width, height);
  const cells = new Float32Array(width * height);
  const nearest = new Int32Array(width * height);
  const hull = new Int32Array(width);
  const from = new Float64Array(width + 1);
  for (let row = 0; row < height; row++) {
    const start = row * width;
    const gap = (column: number): number => (up[start + column] - row) ** 2;
    let last = -1;
    for (let column = 0; column < width; column++) {
      if (up[start + column] < 0) continue;
      const lift = gap(column) + column * column;
      let begins = -Infinity;
      while (last >= 0) {
        const before = hull[last];
        begins = (lift - gap(before) - before * before) / (2 * (column - before));
        if (begins > from[last]) break;
        last--;
      }
      if (last < 0) begins = -Infinity;
      last++;
      hull[last] = column;
      from[last] = begins;
    }
    if (last < 0) {
      cells.fill(Infinity, start, start + width);
      nearest.fill(-1, start, start + width);
      continue;
    }
    let at = 0;
    for (let column = 0; column < width; column++) {
      while (at < last && from[at + 1] < column) at++;
      const base = hull[at];
      cells[start + column] = Math.sqrt((column - base) ** 2 + gap(base));
      nearest[start + column] = up[start + base] * width + base;
    }
  }
  return { cells, nearest };
}

/** For each cell the row of the nearest marked cell in its column, -1 where the column has none. */
function nearestInColumns(marked: Uint8Array, width: number, height: number): Int32Array {
  const rows = new Int32Array(width * height).fill(-1);
  for (let column = 0; column < width; column++) {
    let above = -1;
    for (let row = 0; row < height; row++) {
      const i = row * width + column;
      if (marked[i] !== 0) above = row;
      rows[i] = above;
    }
    let below = -1;
    for (let row = height - 1; row >= 0; row--) {
      const i = row * width + column;
      if (marked[i] !== 0) below = row;
      if (below >= 0 && (rows[i] < 0 || below - row < row - rows[i])) rows[i] = below;
    }
  }
  return rows;
}
