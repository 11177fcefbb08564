/** Steps of probability in the table: half a draw's bits, so that a draw makes two numbers. */
const steps = 2 ** 16;

/** The number for each step of probability, from the lowest up. */
const quantiles = normalQuantiles();

function density(x: number): number {
  return Math.exp(-0.5 * x * x);
}

/**
 * The normal distribution's quantile in the middle of each step of probability, scaled to variance 1.
 *
 * From the median outwards: each next one is where the density's integral from the one before (Simpson's rule) makes a whole
 * step. Symmetric, so that the mean is 0 exactly.
 */
function normalQuantiles(): Float32Array<ArrayBuffer> {
  const half = steps / 2;
  const upper = new Float64Array(half);
  const step = Math.sqrt(2 * Math.PI) / steps;
  let x = 0;
  let squares = 0;
  for (let k = 0; k < half; k++) {
    const from = x;
    const wanted = k === 0 ? step / 2 : step;
    x += wanted / density(from);
    for (let correction = 1; Math.abs(correction) > 1e-12;) {
      const integral =
        ((x - from) / 6) * (density(from) + 4 * density((from + x) / 2) + density(x));
      correction = (integral - wanted) / density(x);
      x -= correction;
    }
    upper[k] = x;
    squares += x * x;
  }
  const scale = Math.sqrt(half / squares);
  const table = new Float32Array(steps);
  for (let k = 0; k < half; k++) {
    table[half + k] = upper[k] * scale;
    table[half - 1 - k] = -upper[k] * scale;
  }
  return table;
}

/**
 * A seeded stream of independent normal numbers of mean 0 and variance 1, in 65,536 equally likely steps: none is beyond
 * 4.3.
 *
 * Streams of different seeds or numbers do not depend on each other: the seed and the number fill the generator's
 * state apart, and the state has 128 bits. The generator is a small fast counting one (sfc32, from memory); each draw of
 * 32 bits makes two numbers by way of the table, with nothing to guess and nothing thrown away.
 */
export class NormalNumbers {
  readonly #state: Int32Array;

  constructor(seed: number, stream: number) {
    this.#state = Int32Array.of(seed | 0, Math.floor(seed / 2 ** 32) | 0, stream | 0, 1);
    // The words of similar seeds are alike at first.
    this.fill(new Float32Array(64));
  }

  /** Fills an array with the next numbers; of an odd count one is dropped. Cost: about 1 ns each; allocates nothing. */
  fill(out: Float32Array): void {
    const state = this.#state;
    let a = state[0];
    let b = state[1];
    let c = state[2];
    let d = state[3];
    for (let at = 0; at < out.length; at += 2) {
      const t = (a + b + d) | 0;
      d = (d + 1) | 0;
      a = b ^ (b >>> 9);
      b = (c + (c << 3)) | 0;
      c = (((c << 21) | (c >>> 11)) + t) | 0;
      out[at] = quantiles[t >>> 16];
      out[at + 1] = quantiles[t & (steps - 1)];
    }
    state[0] = a;
    state[1] = b;
    state[2] = c;
    state[3] = d;
  }
}
