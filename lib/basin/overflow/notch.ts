import { checkErosion, sheetFlow, type ErosionCheck } from './erosion';
import {
  sillVelocityMPerS,
  weirCoefficients,
  weirFlowM3PerS,
  weirHeadM,
  weirWidthM,
  type SillSurface,
  type WeirCoefficient,
} from '../form/weir';

/** A verdict with its reason in a sentence or two. */
interface Verdict {
  readonly result: 'pass' | 'check' | 'fail';
  readonly why: string;
}

/** A notch and the flow that it has to pass. */
export interface NotchTask {
  /** Width of the level sill, metres. */
  readonly widthM: number;
  /** Height of the rim over the sill. */
  readonly freeboardM: number;
  /** Run of the berm's outer side for one of rise: what the overflow runs down. */
  readonly sideSlope: number;
  /** Peak of what leaves the basin in the storm that the notch is made for, usually rarer than the basin's own. */
  readonly peakM3PerS: number;
  /** Grass when not given. */
  readonly surface?: SillSurface;
}

/** What a notch does with its flow. */
export interface NotchCheck {
  readonly surface: SillSurface;
  readonly coefficient: WeirCoefficient;
  /** Head at which the peak passes. */
  readonly headM: number;
  /** Rim over the water at the peak; negative when it runs over the rim. */
  readonly clearM: number;
  /** Flow at which the water reaches the rim. */
  readonly capacityM3PerS: number;
  /** Width at which the peak passes with half the freeboard left clear; infinite without freeboard. */
  readonly widthForPeakM: number;
  /** On the sill, and down the outer side of the berm. */
  readonly onSill: ErosionCheck;
  readonly downBerm: ErosionCheck;
  /** The worse of the two, were it grass, and what to do about the faster. */
  readonly erosion: Verdict;
  /** Fails when the peak runs over the rim or washes the notch out; asks for a check when less than half the freeboard is left. */
  readonly result: 'pass' | 'check' | 'fail';
  readonly why: string;
}

/** Share of the freeboard that should stay clear at the peak. Our choice, no source. */
export const clearShare = 0.5;

/**
 * Checks an overflow notch: a broad-crested weir with a level sill. Its sloping ends are not counted, which is on the
 * careful side.
 */
export function checkNotch(task: NotchTask): NotchCheck {
  const { widthM, freeboardM, sideSlope, peakM3PerS, surface = 'grass' } = task;
  const coefficient = weirCoefficients[surface];
  const C = coefficient.metric;
  const headM = weirHeadM(C, widthM, peakM3PerS);
  const onSill = checkErosion(sillVelocityMPerS(Number.isFinite(headM) ? headM : freeboardM));
  const downBerm = checkErosion(
    sheetFlow(peakM3PerS, widthM, 1 / Math.max(sideSlope, 0.1)).velocityMPerS,
  );
  const clearM = freeboardM - headM;
  const worst = [onSill, downBerm].some(({ result }) => result === 'fail')
    ? 'fail'
    : [onSill, downBerm].some(({ result }) => result === 'check')
      ? 'check'
      : 'pass';
  const isTight = clearM < freeboardM * (1 - clearShare);
  const result =
    clearM < 0 || (surface === 'grass' && worst === 'fail')
      ? 'fail'
      : isTight || (surface === 'grass' && worst === 'check')
        ? 'check'
        : 'pass';
  return {
    surface,
    coefficient,
    headM,
    clearM,
    capacityM3PerS: weirFlowM3PerS(C, widthM, freeboardM),
    widthForPeakM:
      freeboardM > 0
        ? weirWidthM(C, freeboardM * clearShare, peakM3PerS)
        : peakM3PerS > 0
          ? Infinity
          : 0,
    onSill,
    downBerm,
    erosion: { result: worst, why: worse(onSill, downBerm).advice },
    result,
    why: wordsFor({
      headM,
      clearM,
      isTight,
      surface,
      worst,
      advice: worse(onSill, downBerm).advice,
    }),
  };
}

/**
 * A verdict as it stands where nobody says that its storm is as much as has to be borne: what passes in that is open,
 * unless it fails in no storm at all.
 *
 * @param failsFrom - the least rain in which it fails, in words; `null` where it bears any.
 */
export function ofAnyStorm<T extends Verdict>(check: T, failsFrom: string | null): T {
  if (check.result === 'fail' || failsFrom === null) return check;
  const why = `${check.why} But no storm rarer than the plan’s own is known that it has to bear: it fails from ${failsFrom} on.`;
  return { ...check, result: 'check', why };
}

function worse(a: ErosionCheck, b: ErosionCheck): ErosionCheck {
  return b.velocityMPerS > a.velocityMPerS ? b : a;
}

function wordsFor(found: {
  headM: number;
  clearM: number;
  isTight: boolean;
  surface: SillSurface;
  worst: 'pass' | 'check' | 'fail';
  advice: string;
}): string {
  const { headM, clearM, isTight, surface, worst, advice } = found;
  if (!Number.isFinite(headM))
    return 'The notch has no width, so that its water runs over the rim.';
  const cm = (metres: number): string => `${(Math.abs(metres) * 100).toFixed(1)} cm`;
  const passes =
    clearM < 0
      ? `The peak stands ${cm(headM)} over the sill, ${cm(clearM)} over the rim: widen the notch or raise the rim.`
      : `The peak stands ${cm(headM)} over the sill, ${cm(clearM)} below the rim${isTight ? ': less than half the freeboard is left' : ''}.`;
  return surface === 'grass' && worst !== 'pass' ? `${passes} ${advice}` : passes;
}

/** Width that inflow spreads over where it enters. Common practice, no source: a splash pad of stone is about as wide. */
export const inletWidthM = 1;

/** What the way into a basin has to bear. */
export interface InletTask {
  readonly peakM3PerS: number;
  /** Width that the water is spread over. */
  readonly widthM: number;
  /** Fall of the ground that it comes in over, rise over run. */
  readonly slope: number;
}

/**
 * Velocity where water comes in: over short grass on the lead-in, and down the bowl's side, after Manning; the faster of the two
 * is held against what grass bears.
 */
export function checkInlet(
  { peakM3PerS, widthM, slope }: InletTask,
  sideSlope: number,
): ErosionCheck {
  const steepest = Math.max(slope, 1 / Math.max(sideSlope, 0.1));
  return checkErosion(sheetFlow(peakM3PerS, widthM, steepest).velocityMPerS);
}
