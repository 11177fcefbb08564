import type { Source } from '../../source';
import { footM } from '../../units/units';

/** Acceleration of gravity, m/s2. */
export const gravity = 9.80665;
/** A weir coefficient in feet and seconds, times this, is one in metres and seconds: C has the unit of a root of length over time. */
const fromFeet = Math.sqrt(footM);

/** What the sill of a notch is made of. */
export type SillSurface = 'grass' | 'stone';

/** A weir coefficient. */
export interface WeirCoefficient {
  /** In metres and seconds. */
  readonly metric: number;
  readonly published: string;
  readonly source: Source;
}

const handbooks: Source = {
  title: 'Broad-crested weirs, practical coefficients',
  publisher: 'hydraulics handbooks',
  year: null,
  mark: 'from memory',
};

/** Coefficients of a broad-crested notch by its surface; the lower end of the range, on the careful side. */
export const weirCoefficients: Readonly<Record<SillSurface, WeirCoefficient>> = {
  grass: {
    metric: 2.6 * fromFeet,
    published: 'C 2.6 to 2.7 in feet and seconds for a grass or rough earth notch',
    source: handbooks,
  },
  stone: {
    metric: 3 * fromFeet,
    published: 'C 3.0 in feet and seconds for flat stone',
    source: handbooks,
  },
};

/** C of a broad-crested weir without losses, metres and seconds: (2/3)^1.5 sqrt(g), from critical flow on the sill. */
export const idealWeirCoefficient = (2 / 3) ** 1.5 * Math.sqrt(gravity);

/**
 * Flow over a broad-crested weir, m3/s: Q = C L H^1.5.
 * Source: an exam solution of San Diego State University (seen; its C of 3.09, 20 ft and 0.8 ft give 44.22 cfs).
 *
 * @param headM - of the water upstream over the sill.
 */
export function weirFlowM3PerS(coefficient: number, widthM: number, headM: number): number {
  return headM > 0 ? coefficient * widthM * headM ** 1.5 : 0;
}

/** Head over the sill at which a flow passes, metres; infinite for a notch without width. */
export function weirHeadM(coefficient: number, widthM: number, flowM3PerS: number): number {
  return flowM3PerS > 0 ? (flowM3PerS / (coefficient * widthM)) ** (2 / 3) : 0;
}

/** Width at which a flow passes under a head, metres. */
export function weirWidthM(coefficient: number, headM: number, flowM3PerS: number): number {
  return flowM3PerS > 0 ? flowM3PerS / (coefficient * headM ** 1.5) : 0;
}

/** Velocity of critical flow on the sill, m/s: depth is two thirds of the head, velocity the root of g times depth. */
export function sillVelocityMPerS(headM: number): number {
  return Math.sqrt((2 / 3) * gravity * Math.max(0, headM));
}
