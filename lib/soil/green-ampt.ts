import { assert } from '../errors';

/** What the wetting front meets in one kind of soil, at one wetness. */
export interface GreenAmptSoil {
  /** Hydraulic conductivity behind the front, metres a second. */
  readonly conductivityMPerS: number;
  /** Suction head at the front, metres, 0 or more; `Infinity` is not allowed. */
  readonly suctionM: number;
  /** Moisture deficit: share of the volume that the front fills, 0 to 1. */
  readonly deficit: number;
}

/**
 * Depth of water soaked in since the front started, metres, after a further time under water.
 *
 * Solves F - F0 - s ln((F + s) / (F0 + s)) = K t for F, with s = (suction + head) x deficit. Written in
 * z = (F - F0) / (F0 + s) the left side is F0 z + s (z - ln(1 + z)): convex, rising, and without a difference
 * of large numbers, so that Newton's steps from above fall onto the root without overshooting it.
 *
 * @param soakedM - F0, metres, 0 or more.
 * @param timeS - time under water, seconds, 0 or more.
 * @param headM - depth of the water standing on the surface, metres, held constant meanwhile.
 * Cost: a handful of logarithms.
 * Source: Rawls, Brakensiek and Miller (1983), Journal of Hydraulic Engineering 109(1), 62-70, equations 1-2
 *   (seen); the ponded head beside the suction as in a hydrology reference page (seen in a secondary copy).
 */
export function soakedUnderWaterM(
  soil: GreenAmptSoil,
  soakedM: number,
  timeS: number,
  headM = 0,
): number {
  const { conductivityMPerS: conductivity } = soil;
  assert(soakedM >= 0 && timeS >= 0 && headM >= 0, 'depths, heads and times are 0 or more');
  const drawM = drawOf(soil, headM);
  const gravityM = conductivity * timeS;
  if (gravityM === 0) return soakedM;
  // So little suction changes no figure of the result, and would overflow z.
  if (drawM <= 1e-16 * gravityM) return soakedM + gravityM;
  const scaleM = soakedM + drawM;
  // Never less than what a dry start would take, as ln(1 + x) <= x (2 + x) / (2 (1 + x)).
  let z = (gravityM + Math.sqrt(gravityM * (gravityM + 2 * drawM))) / scaleM;
  for (let step = 0; step < 100; step++) {
    const excess = soakedM * z + drawM * lessItsLogarithm(z) - gravityM;
    const next = z - excess / (soakedM + (drawM * z) / (1 + z));
    // Rounding alone can make it rise again: then the root is reached.
    if (!(next < z) || next <= 0) break;
    const fell = z - next;
    z = next;
    if (fell <= 1e-15 * z) break;
  }
  return soakedM + z * scaleM;
}

/**
 * Rate at which the surface takes water when it is under `headM` of it, metres a second: K (1 + s / F).
 * `Infinity` before anything has soaked in, where there is suction.
 */
export function capacityMPerS(soil: GreenAmptSoil, soakedM: number, headM = 0): number {
  const { conductivityMPerS } = soil;
  const drawM = drawOf(soil, headM);
  if (conductivityMPerS === 0 || drawM === 0) return conductivityMPerS;
  return conductivityMPerS * (1 + drawM / soakedM);
}

/**
 * How long rain of a constant rate soaks in whole before water stands, seconds; `Infinity` when it always does.
 * What has soaked in by then is this times the rate.
 * Source: Chow, Maidment and Mays, Applied Hydrology (1988), equation 4.4.2, from memory.
 */
export function pondingTimeS(soil: GreenAmptSoil, rainMPerS: number): number {
  const { conductivityMPerS } = soil;
  if (rainMPerS <= conductivityMPerS) return Number.POSITIVE_INFINITY;
  return (conductivityMPerS * drawOf(soil, 0)) / (rainMPerS * (rainMPerS - conductivityMPerS));
}

/**
 * Depth soaked in after a time of constant rain on a surface from which what does not soak in runs off, metres.
 * Up to the ponding time all of it; then along the curve of a wetted surface.
 */
export function soakedByRainM(soil: GreenAmptSoil, rainMPerS: number, timeS: number): number {
  const pondsAtS = pondingTimeS(soil, rainMPerS);
  if (timeS <= pondsAtS) return rainMPerS * timeS;
  return soakedUnderWaterM(soil, rainMPerS * pondsAtS, timeS - pondsAtS);
}

/** What draws water in beside its weight: suction and head, times what the front fills. */
function drawOf({ suctionM, deficit }: GreenAmptSoil, headM: number): number {
  return (suctionM + headM) * deficit;
}

/** z - ln(1 + z), by its series where the difference would lose figures. */
function lessItsLogarithm(z: number): number {
  if (z > 0.01) return z - Math.log1p(z);
  let sum = 0;
  for (let n = 9; n >= 2; n--) sum = z * sum + (n % 2 === 0 ? 1 : -1) / n;
  return sum * z * z;
}
