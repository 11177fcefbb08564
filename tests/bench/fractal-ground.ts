import { randomFrom } from '../property/drainage/grounds';

/**
 * Seeded ground like a lidar raster of half-metre cells: smooth hills of several sizes, a tilt of
 * 2 %, and white noise of the given standard deviation. With 3 cm it has one pit in 12 cells, with
 * 1.5 cm one in 21: rougher than real bare ground.
 */
export function fractalGround(side: number, seed: number, noiseM: number): Float32Array {
  const random = randomFrom(seed);
  const z = new Float32Array(side * side);
  let amplitudeM = 4;
  for (let wave = 256; wave >= 4; wave /= 2) {
    addHills(z, side, wave, amplitudeM, random);
    amplitudeM *= 0.45;
  }
  let lowest = Infinity;
  for (let i = 0; i < z.length; i++) {
    const tiltM = 0.01 * (Math.floor(i / side) + 0.7 * (i % side));
    // the sum of four even random numbers is near enough to normal
    const noise = (random() + random() + random() + random() - 2) * Math.sqrt(3);
    z[i] += tiltM + noiseM * noise;
    lowest = Math.min(lowest, z[i]);
  }
  for (let i = 0; i < z.length; i++) z[i] += 1 - lowest;
  // rounding could leave the lowest cell a trifle below 1
  for (let i = 0; i < z.length; i++) z[i] = Math.max(1, z[i]);
  return z;
}

/** Random heights on a coarse grid, joined smoothly. */
function addHills(
  z: Float32Array,
  side: number,
  wave: number,
  amplitudeM: number,
  random: () => number,
): void {
  const coarse = Math.ceil(side / wave) + 2;
  const heights = Float64Array.from(
    { length: coarse * coarse },
    () => (random() - 0.5) * amplitudeM,
  );
  for (let row = 0; row < side; row++) {
    const y = Math.floor(row / wave);
    const downwards = eased(row / wave - y);
    for (let column = 0; column < side; column++) {
      const x = Math.floor(column / wave);
      const rightwards = eased(column / wave - x);
      const at = y * coarse + x;
      const upper = heights[at] + (heights[at + 1] - heights[at]) * rightwards;
      const left = heights[at + coarse];
      const lower = left + (heights[at + coarse + 1] - left) * rightwards;
      z[row * side + column] += upper + (lower - upper) * downwards;
    }
  }
}

function eased(t: number): number {
  return t * t * (3 - 2 * t);
}
