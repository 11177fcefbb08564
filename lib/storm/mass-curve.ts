import { exactSteps } from './exact-steps';
import { totalMm, type RainSeries } from './rain-series';
import { hourS } from '../units/units';

/** The share of an event's water that has come by each moment: rises from 0 to 1, straight between equal steps. */
export interface MassCurve {
  readonly durationS: number;
  /** Shares at the ends of equal steps; the first is 0 and the last 1. */
  readonly shares: ArrayLike<number>;
}

/** The same rain all the time. */
export function evenCurve(durationS: number): MassCurve {
  return { durationS, shares: [0, 1] };
}

/** The curve of a series; an even one when nothing falls in it. */
export function curveOf(series: RainSeries): MassCurve {
  const { stepS, depthsMm } = series;
  const total = totalMm(series);
  const durationS = stepS * depthsMm.length;
  if (total === 0) return evenCurve(durationS);
  const shares = new Float64Array(depthsMm.length + 1);
  let sum = 0;
  depthsMm.forEach((depth, step) => {
    sum += depth;
    shares[step + 1] = sum / total;
  });
  return { durationS, shares };
}

/** The share that has come by a moment; 0 before the event and 1 after it. */
export function shareAt({ durationS, shares }: MassCurve, timeS: number): number {
  const steps = shares.length - 1;
  if (!(timeS > 0)) return 0;
  if (timeS >= durationS) return 1;
  const place = (timeS / durationS) * steps;
  const step = Math.min(steps - 1, Math.floor(place));
  return shares[step] + (shares[step + 1] - shares[step]) * (place - step);
}

/** A depth spread along a curve in steps of a given length, the last of them perhaps cut short; its sum is the depth exactly. */
export function spread(curve: MassCurve, depthMm: number, stepS: number): RainSeries {
  // A millionth of a step is rounding in hours turned to seconds, not one more step.
  const count = Math.max(1, Math.ceil(curve.durationS / stepS - 1e-6));
  const grownMm = (step: number): number => depthMm * shareAt(curve, step * stepS);
  return { stepS, depthsMm: exactSteps(count, depthMm, grownMm) };
}

/** The series in steps of another length; its sum stays the same to the last bit. */
export function resample(series: RainSeries, stepS: number): RainSeries {
  return stepS === series.stepS ? series : spread(curveOf(series), totalMm(series), stepS);
}

/** The stretch of a given length in which most falls: where it begins, and the share that falls in it. */
export function steepest(
  curve: MassCurve,
  windowS: number,
): { readonly fromS: number; readonly share: number } {
  const { durationS, shares } = curve;
  if (windowS >= durationS) return { fromS: 0, share: 1 };
  const stepS = durationS / (shares.length - 1);
  let best = { fromS: 0, share: shareAt(curve, windowS) };
  // The curve being straight between its points, the steepest stretch begins or ends at one.
  for (let step = 0; step < shares.length; step++) {
    for (const edgeS of [step * stepS, step * stepS - windowS]) {
      // Pushed inside and not left out: rounding may put the very last stretch a hair beyond the end.
      const fromS = Math.min(durationS - windowS, Math.max(0, edgeS));
      const share = shareAt(curve, fromS + windowS) - shareAt(curve, fromS);
      if (share > best.share) best = { fromS, share };
    }
  }
  return best;
}

/** The greatest mean intensity over any stretch of a given length (over 0), millimetres an hour. */
export function peakMmPerH(series: RainSeries, windowS: number): number {
  const { share } = steepest(curveOf(series), windowS);
  return (totalMm(series) * share * hourS) / windowS;
}
