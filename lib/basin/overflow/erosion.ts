import type { Source } from '../../source';
import { footM } from '../../units/units';

/** What is said of a velocity over grass. */
export interface ErosionCheck {
  readonly velocityMPerS: number;
  readonly result: 'pass' | 'check' | 'fail';
  readonly advice: string;
  readonly source: Source;
}

/** Velocities that established grass bears, m/s: good on all soils and slopes up to the first, on none beyond the second. */
export const grassLimit = { fromMPerS: 3 * footM, toMPerS: 5 * footM } as const;
export const grassLimitSource: Source = {
  title: 'Handbook of channel design for soil and water conservation, TP-61: 3 to 5 ft/s',
  publisher: 'USDA Soil Conservation Service',
  year: null,
  mark: 'from memory',
};
/**
 * Manning's n of short grass: the smooth end of the range, on which water runs fastest (0.03 to 0.06 in channel flow, Toronto-area
 * guide, swale page, seen).
 */
export const shortGrassN = 0.03;

/** Velocity after Manning, m/s: V = R^(2/3) S^(1/2) / n (Toronto-area guide, swale page, seen). */
export function manningVelocityMPerS(
  hydraulicRadiusM: number,
  slope: number,
  roughness: number,
): number {
  return (hydraulicRadiusM ** (2 / 3) * Math.sqrt(Math.max(0, slope))) / roughness;
}

/**
 * Velocity and depth of a flow spread over a width, much wider than deep, m/s and m: after Manning with the depth for
 * the hydraulic radius, solved for the depth.
 */
export function sheetFlow(
  flowM3PerS: number,
  widthM: number,
  slope: number,
  roughness = shortGrassN,
): { readonly velocityMPerS: number; readonly depthM: number } {
  if (!(flowM3PerS > 0) || !(widthM > 0) || !(slope > 0)) return { velocityMPerS: 0, depthM: 0 };
  const perWidth = flowM3PerS / widthM;
  const depthM = ((perWidth * roughness) / Math.sqrt(slope)) ** 0.6;
  return { velocityMPerS: perWidth / depthM, depthM };
}

/** Holds a velocity against what grass bears. */
export function checkErosion(velocityMPerS: number): ErosionCheck {
  const rest = { velocityMPerS, source: grassLimitSource };
  if (velocityMPerS <= grassLimit.fromMPerS) {
    return { ...rest, result: 'pass', advice: 'Established grass bears this.' };
  }
  if (velocityMPerS <= grassLimit.toMPerS) {
    return {
      ...rest,
      result: 'check',
      advice: 'Dense grass on firm soil bears this, other ground does not: lay flat stone on it.',
    };
  }
  return {
    ...rest,
    result: 'fail',
    advice: 'Grass washes out at this: line it with stone on a fabric, and make it wider.',
  };
}
