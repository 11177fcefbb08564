import { assert } from '../../errors';
import { neighbourOffsets } from './neighbours';

/** Marks a cell as done among counts of donors, of which there are eight at most. */
const DONE = 255;

/**
 * Sum of the weights of all cells whose single-flow path passes through each cell, itself included.
 *
 * Every cell that nobody drains to starts a chain, which goes on as long as the next cell has no
 * other donor left: no queue, no sorting.
 *
 * @param directions - direction codes without loops, as `flowDirections` gives or a terrain's `receiver`.
 * @param weights - one for each cell, 1 where left out. Cells without data take part as cells that
 *   nothing drains to.
 * @param out - receives the sums when given.
 * Cost: O(n). Sums of whole numbers are exact.
 */
export function accumulate(
  directions: Uint8Array,
  width: number,
  weights?: Float32Array | Float64Array,
  out: Float64Array = new Float64Array(directions.length),
): Float64Array {
  const size = directions.length;
  const offsets = neighbourOffsets(width);
  const donors = countDonors(directions, offsets);
  if (weights === undefined) out.fill(1);
  else out.set(weights);
  let done = 0;
  for (let start = 0; start < size; start++) {
    if (donors[start] !== 0) continue;
    let cell = start;
    for (;;) {
      donors[cell] = DONE;
      done++;
      const step = offsets[directions[cell]];
      if (step === 0) break;
      const next = cell + step;
      out[next] += out[cell];
      if (--donors[next] !== 0) break;
      cell = next;
    }
  }
  assert(done === size, 'directions must be free of loops');
  return out;
}

/**
 * All cells in an order in which every cell comes before the one it drains to.
 *
 * @param directions - as for {@link accumulate}; cells without data are in the order too.
 * Cost: O(n).
 */
export function upstreamFirst(
  directions: Uint8Array,
  width: number,
  out: Int32Array = new Int32Array(directions.length),
): Int32Array {
  const size = directions.length;
  const offsets = neighbourOffsets(width);
  const donors = countDonors(directions, offsets);
  let done = 0;
  for (let start = 0; start < size; start++) {
    if (donors[start] !== 0) continue;
    let cell = start;
    for (;;) {
      donors[cell] = DONE;
      out[done++] = cell;
      const step = offsets[directions[cell]];
      if (step === 0) break;
      const next = cell + step;
      if (--donors[next] !== 0) break;
      cell = next;
    }
  }
  assert(done === size, 'directions must be free of loops');
  return out;
}

function countDonors(directions: Uint8Array, offsets: Int32Array): Uint8Array {
  const donors = new Uint8Array(directions.length);
  for (let i = 0; i < directions.length; i++) {
    const step = offsets[directions[i]];
    // Adding nothing to itself keeps the loop free of branches.
    donors[i + step] += step === 0 ? 0 : 1;
  }
  return donors;
}
