/** What is smaller than this beside the largest number of its row is nothing. */
const singular = 1e-12;

/**
 * The inverse of a square matrix by Gauss and Jordan with row pivots; null where there is none. Changes the matrix into
 * it, so that no second one is carried along.
 */
export function inverted(m: Float64Array, size: number): Float64Array | null {
  const pivots = new Int32Array(size);
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let row = column + 1; row < size; row++) {
      if (Math.abs(m[row * size + column]) > Math.abs(m[pivot * size + column])) pivot = row;
    }
    if (Math.abs(m[pivot * size + column]) < singular) return null;
    pivots[column] = pivot;
    if (pivot !== column) swapRows(m, size, pivot, column);
    const scale = 1 / m[column * size + column];
    m[column * size + column] = 1;
    scaleRow(m, size, column, scale);
    for (let row = 0; row < size; row++) {
      const factor = m[row * size + column];
      if (row === column || factor === 0) continue;
      m[row * size + column] = 0;
      subtractRow(m, size, row, column, factor);
    }
  }
  // Rows that were swapped on the way are columns of the inverse.
  for (let column = size - 1; column >= 0; column--) {
    if (pivots[column] !== column) swapColumns(m, size, pivots[column], column);
  }
  return m;
}

function swapColumns(m: Float64Array, size: number, a: number, b: number): void {
  for (let row = 0; row < size * size; row += size) {
    const kept = m[row + a];
    m[row + a] = m[row + b];
    m[row + b] = kept;
  }
}

function swapRows(m: Float64Array, size: number, a: number, b: number): void {
  const kept = m.slice(a * size, (a + 1) * size);
  m.copyWithin(a * size, b * size, (b + 1) * size);
  m.set(kept, b * size);
}

function scaleRow(m: Float64Array, size: number, row: number, by: number): void {
  for (let at = row * size; at < (row + 1) * size; at++) m[at] *= by;
}

function subtractRow(m: Float64Array, size: number, from: number, row: number, by: number): void {
  const a = from * size;
  const b = row * size;
  for (let k = 0; k < size; k++) m[a + k] -= by * m[b + k];
}
