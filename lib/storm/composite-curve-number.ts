import { roofCurveNumber } from './curve-numbers';
import { runOffMm } from './run-off';

/** From this share of sealed ground on, what lies between takes in nothing of what runs onto it. Source: as below. */
export const mostSealedShare = 0.3;

/** A lot with part of it sealed, as one curve number sees it. */
export interface SealedLot {
  /** Curve number of what is not sealed. */
  readonly openCurveNumber: number;
  /** Share of the whole that is roof or paving. */
  readonly sealedShare: number;
  /** Share of the sealed area that empties onto open ground and spreads over it. */
  readonly unconnectedShare: number;
}

/**
 * The one curve number for a lot part of which is sealed, with credit for sealed ground that empties onto open ground.
 *
 * CN = CNp + (98 - CNp) I (1 - 0.5 R), with sealed share I and unconnected part R of it; no credit from 30 % sealed on.
 * No lot's run-off is computed by it: see `spreadCredit` for the one use of it.
 *
 * Source: Technical Release 55, USDA SCS, 1986, figures 2-3 and 2-4 and appendix F (seen).
 */
export function compositeCurveNumber(lot: SealedLot): number {
  const { openCurveNumber, sealedShare, unconnectedShare } = lot;
  const credit = sealedShare < mostSealedShare ? 0.5 * unconnectedShare : 0;
  return openCurveNumber + (roofCurveNumber - openCurveNumber) * sealedShare * (1 - credit);
}

/** A part of a lot with a curve number of its own. */
export interface LotPart {
  readonly areaM2: number;
  readonly curveNumber: number;
}

/**
 * Run-off of the parts of a lot computed apart, and by their average curve number: both in millimetres over the whole
 * area. The average understates small rains on unlike parts, most of all, and may overstate very large ones.
 *
 * Source: National Engineering Handbook 630, ch. 10, USDA NRCS, 2004, p. 10-11 and example 10-5 (seen).
 */
export function averagedRunOff(
  parts: readonly LotPart[],
  rainMm: number,
): {
  readonly apartMm: number;
  readonly averagedMm: number;
  readonly averageCurveNumber: number;
} {
  const areaM2 = parts.reduce((sum, part) => sum + part.areaM2, 0);
  if (!(areaM2 > 0)) return { apartMm: 0, averagedMm: 0, averageCurveNumber: 0 };
  const mean = (of: (part: LotPart) => number): number =>
    parts.reduce((sum, part) => sum + of(part) * part.areaM2, 0) / areaM2;
  const averageCurveNumber = mean(({ curveNumber }) => curveNumber);
  return {
    apartMm: mean(({ curveNumber }) => runOffMm(rainMm, curveNumber)),
    averagedMm: runOffMm(rainMm, averageCurveNumber),
    averageCurveNumber,
  };
}

/**
 * Run-off of a small storm as a share of its rain, by the sealed share alone.
 *
 * Source: Iowa Stormwater Management Manual, section 2C-6, Small Storm Hydrology, equation 1 (seen).
 */
export function volumetricCoefficient(sealedShare: number): number {
  return 0.05 + 0.9 * sealedShare;
}
