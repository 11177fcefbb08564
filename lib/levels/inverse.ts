/** What is smaller than this beside the largest number of its row is nothing. */
const singular = 1e-12;

/** The inverse of a square matrix by Gauss and Jordan with row pivots; null where there is none. Changes the matrix. */
export function inverted(matrix: Float64Array, size: number): Float64Array | null {
  const inverse = new Float64Array(size * size);
  for (let i = 0; i < size; i++) inverse[i * size + i] = 1;
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let row = column + 1; row < size; row++) {
      if (Math.abs(matrix[row * size + column]) > Math.abs(matrix[pivot * size + column]))
        pivot = row;
    }
    if (Math.abs(matrix[pivot * size + column]) < singular) return null;
    if (pivot !== column) {
      swapRows(matrix, size, pivot, column);
      swapRows(inverse, size, pivot, column);
    }
    const scale = 1 / matrix[column * size + column];
    scaleRow(matrix, size, column, scale);
    scaleRow(inverse, size, column, scale);
    for (let row = 0; row < size; row++) {
      const factor = matrix[row * size + column];
      if (row === column || factor === 0) continue;
      subtractRow(matrix, size, row, column, factor);
      subtractRow(inverse, size, row, column, factor);
    }
  }
  return inverse;
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
