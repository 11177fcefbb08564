/**
 * Smooths a raster by a Gaussian, leaving no data where it is.
 *
 * The Gaussian is cut off at three times its spread and weighs only cells that hold data, so heights beside
 * a hole or the border are not drawn down by what is not there.
 *
 * @param z - row-major values; `NaN` is no data. Not modified.
 * @param sigmaCells - spread (standard deviation) in cells.
 * @returns a new array of the same shape.
 * Cost: linear in cells times spread; one array of the same size beside the output.
 */
export function blur(
  z: Float32Array,
  width: number,
  height: number,
  sigmaCells: number,
): Float32Array {
  const reach = Math.ceil(3 * sigmaCells);
  const weights = Float64Array.from({ length: reach + 1 }, (_, i) =>
    Math.exp(-(i * i) / (2 * sigmaCells * sigmaCells)),
  );
  const alongRows = new Float32Array(z.length);
  for (let row = 0; row < height; row++) {
    smoothLine(z, alongRows, weights, row * width, 1, width);
  }
  const out = new Float32Array(z.length);
  for (let column = 0; column < width; column++) {
    smoothLine(alongRows, out, weights, column, width, height);
  }
  return out;
}

/** Smooths one row or column: `count` values from `start`, each `step` after the last. */
function smoothLine(
  from: Float32Array,
  to: Float32Array,
  weights: Float64Array,
  start: number,
  step: number,
  count: number,
): void {
  const reach = weights.length - 1;
  for (let i = 0; i < count; i++) {
    const at = start + i * step;
    const own = from[at];
    if (Number.isNaN(own)) {
      to[at] = own;
      continue;
    }
    let sum = own;
    let weight = 1;
    const back = Math.min(reach, i);
    const ahead = Math.min(reach, count - 1 - i);
    for (let k = 1; k <= back; k++) {
      const value = from[at - k * step];
      if (Number.isNaN(value)) continue;
      sum += value * weights[k];
      weight += weights[k];
    }
    for (let k = 1; k <= ahead; k++) {
      const value = from[at + k * step];
      if (Number.isNaN(value)) continue;
      sum += value * weights[k];
      weight += weights[k];
    }
    to[at] = sum / weight;
  }
}
