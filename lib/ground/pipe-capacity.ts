/**
 * Manning's n of a drain pipe where the plan gives none: corrugated outside and smooth within (from memory; pipe that
 * is corrugated within is rougher, 0.016 to 0.024).
 */
export const usualRoughness = 0.013;
/** Diameter of a drain pipe where the plan gives none: about 4 in. Common practice, no source. */
export const usualDiameterM = 0.1;
/** Slope taken for a drain into the storm sewer, whose depth is not known: 1 %. Common practice, no source. */
export const usualSlope = 0.01;

/**
 * Discharge of a round pipe that runs just full, m3/s.
 *
 * Q = A R^(2/3) S^(1/2) / n with area A = pi d^2 / 4 and hydraulic radius R = d / 4: Manning's equation in SI units as a stormwater
 * guide's swale page of the Toronto and Region Conservation Authority has it (V = R^(2/3) S^(1/2) / n, Q = V A).
 *
 * @param slope - fall for one of run; 0 or less carries nothing.
 * Limits: no pressure, no losses at inlet, outlet and bends.
 */
export function pipeCapacityM3PerS(
  diameterM: number,
  slope: number,
  roughness: number = usualRoughness,
): number {
  if (!(slope > 0)) return 0;
  const areaM2 = (Math.PI * diameterM ** 2) / 4;
  return (areaM2 * (diameterM / 4) ** (2 / 3) * Math.sqrt(slope)) / roughness;
}
