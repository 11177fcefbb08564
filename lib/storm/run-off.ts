import { inchMm } from '../units/units';

/**
 * Depth of run-off from a depth of rain on one surface, by the curve-number equation.
 *
 * Q = (P - 0.2 S)^2 / (P + 0.8 S), zero while P <= 0.2 S, with S = 25.4 (1000 / CN - 10) mm.
 * Surfaces are computed one by one and summed; curve numbers are never averaged across unlike surfaces,
 * which would mis-state run-off, in small rains by far (National Engineering Handbook 630, ch. 10, USDA NRCS, 2004,
 * example 10-5).
 *
 * @param rainMm - rain of the whole storm, millimetres, at least 0.
 * @param curveNumber - from over 0 to 100.
 * @returns run-off in millimetres, from 0 to `rainMm`.
 * Source: Technical Release 55, USDA SCS, 1986, equations 2-1 to 2-4. Limits (same, p. 2-11): not for melt
 *   or frozen ground; rough below 12 mm of run-off or for curve numbers below 40.
 */
export function runOffMm(rainMm: number, curveNumber: number): number {
  const retentionMm = inchMm * (1000 / curveNumber - 10);
  const excessMm = rainMm - 0.2 * retentionMm;
  if (excessMm <= 0) return 0;
  return (excessMm * excessMm) / (excessMm + retentionMm);
}
