import type { FilledOutline, OutlineToFill } from '../../basin/filling/outline-filler';
import { classDepthM } from '../../basin/form/size-factors';
import type { SearchedLot } from './searched-lot';
import type { Refused, Sized } from './sized-place';
import { sitingDefaults, type SiteSimulator } from './siting-input';

/** A place with its storm gone through it. */
export interface Simulated {
  readonly filled: FilledOutline;
  readonly wantedShare: number;
  /** Area of this form that captures the wanted share of what comes here; `null` when none up to the bound does. */
  readonly areaForShareM2: number | null;
}

/**
 * How long water stands in a basin, as rules judge it: after the rain or from full, whichever is longer; `null` where it
 * does not empty in the time looked at.
 */
export function drainDownH({ afterRainH, fromFullH }: FilledOutline): number | null {
  return afterRainH === null || fromFullH === null ? null : Math.max(afterRainH, fromFullH);
}

/** Areas are found to this share of themselves. */
const areaTolerance = 0.03;

/**
 * A sized place as the simulator is asked about it. What comes over the ground is given as an area of the lot's mean
 * ground that sends as much; the place's own area, on which rain falls as it is, is taken off it.
 */
export function siteToFill(
  searched: Pick<SearchedLot, 'input' | 'sideSlope' | 'formRim'>,
  sized: Sized,
  areaM2 = sized.areaM2,
): OutlineToFill {
  const { runOffDepthM, roofRunOffM } = searched.input;
  const roofM2 = sized.led.reduce((sum, roof) => sum + roof.area_m2, sized.roofsByItselfM2);
  const fromGroundM3 = Math.max(0, sized.inflowM3 - roofRunOffM * roofM2);
  const sendsM2 = runOffDepthM > 0 ? fromGroundM3 / runOffDepthM : sized.catchesM2 - roofM2;
  return {
    rim: searched.formRim(sized.outline),
    areaM2,
    pondingDepthM: classDepthM[sized.depth],
    sideSlope: searched.sideSlope,
    groundM2: Math.max(0, sendsM2 - areaM2),
    roofM2,
  };
}

/**
 * The area that captures a share of what comes to a place, its form and catch as they are.
 *
 * A larger basin captures no less, so the area is found by halving; the catch of a somewhat other rim is taken to be the
 * same.
 *
 * @returns `null` when even the largest allowed does not.
 * Cost: about eight simulations.
 */
export function areaCapturing(
  sized: Sized,
  simulate: SiteSimulator,
  share: number,
  bounds: Pick<SearchedLot, 'input' | 'minAreaM2' | 'maxAreaM2' | 'sideSlope' | 'formRim'>,
): number | null {
  const captures = (areaM2: number): boolean =>
    simulate(siteToFill(bounds, sized, areaM2)).capturedFraction >= share;
  if (captures(bounds.minAreaM2)) return bounds.minAreaM2;
  if (!captures(bounds.maxAreaM2)) return null;
  // Where it stands is the best guess, and halves what is left either way.
  let [low, high] = [bounds.minAreaM2, bounds.maxAreaM2];
  if (sized.areaM2 > low && sized.areaM2 < high) {
    if (captures(sized.areaM2)) high = sized.areaM2;
    else low = sized.areaM2;
  }
  while (high - low > areaTolerance * high) {
    const middle = (low + high) / 2;
    if (captures(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/**
 * A place with the storm gone through it: what it captures is then by simulation, and how long water stands in it is
 * among its findings; refused where it breaks a binding rule by that.
 */
export function poured(
  searched: SearchedLot,
  sized: Sized,
  filled: FilledOutline,
): Sized | Refused {
  const capturedM3 = filled.inflowM3 - filled.overflowM3;
  return searched.checked(
    { ...sized, scored: { ...sized.scored, capturedM3 } },
    drainDownH(filled) ?? Infinity,
  );
}

/** What the storm makes of a place, and the area that the wanted share asks for; its size stays. */
export function simulateSite(
  searched: SearchedLot,
  sized: Sized,
  simulate: SiteSimulator,
): Simulated {
  const wantedShare = searched.input.wantedShare ?? sitingDefaults.wantedShare;
  return {
    filled: simulate(siteToFill(searched, sized)),
    wantedShare,
    areaForShareM2: areaCapturing(sized, simulate, wantedShare, searched),
  };
}

/**
 * Gives a place the area at which it captures the wanted share, where it may have it: as it is when that area does not
 * fit or breaks a rule there.
 *
 * @param mayBe - whether a resized place may be taken, its neighbours considered.
 */
export function sizeBySimulation(
  searched: SearchedLot,
  sized: Sized,
  simulate: SiteSimulator,
  mayBe: (resized: Sized) => boolean,
): { readonly sized: Sized; readonly simulated: Simulated } {
  const simulated = simulateSite(searched, sized, simulate);
  const { areaForShareM2 } = simulated;
  if (areaForShareM2 === null || isNear(areaForShareM2, sized.areaM2)) return { sized, simulated };
  const resized = searched.sizeAt(sized.at, sized.outline, areaForShareM2);
  if (!resized.fits || !mayBe(resized)) return { sized, simulated };
  return {
    sized: resized,
    simulated: { ...simulated, filled: simulate(siteToFill(searched, resized)) },
  };
}

/** Areas this near each other are not worth another outline. */
function isNear(a: number, b: number): boolean {
  return Math.abs(a - b) < 0.05 * b;
}
