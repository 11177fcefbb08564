import { classDepthM } from '../basin/size-factors';
import type { SearchedLot, Sized } from './searched-lot';
import {
  sitingDefaults,
  type FilledSite,
  type SiteSimulator,
  type SiteToFill,
} from './siting-input';

/** A place with its storm gone through it. */
export interface Simulated {
  readonly filled: FilledSite;
  readonly wantedShare: number;
  /** Area of this form that captures the wanted share of what comes here; `null` when none up to the bound does. */
  readonly areaForShareM2: number | null;
}

/** Areas are found to this share of themselves. */
const areaTolerance = 0.01;

/** A sized place as the simulator is asked about it. */
export function siteToFill(sized: Sized, sideSlope: number, areaM2 = sized.areaM2): SiteToFill {
  const scale = Math.sqrt(areaM2 / sized.areaM2);
  const [x, y] = sized.at;
  const ledM2 = sized.led.reduce((sum, roof) => sum + roof.area_m2, 0);
  const roofM2 = Math.min(sized.catchesM2, ledM2 + sized.roofsByItselfM2);
  return {
    rim: sized.rim.map((at) => [x + scale * (at[0] - x), y + scale * (at[1] - y)] as const),
    areaM2,
    pondingDepthM: classDepthM[sized.depth],
    sideSlope,
    groundM2: sized.catchesM2 - roofM2,
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
 * Cost: about ten simulations.
 */
export function areaForShare(
  sized: Sized,
  simulate: SiteSimulator,
  share: number,
  bounds: Pick<SearchedLot, 'minAreaM2' | 'maxAreaM2' | 'sideSlope'>,
): number | null {
  const captures = (areaM2: number): boolean =>
    simulate(siteToFill(sized, bounds.sideSlope, areaM2)).capturedFraction >= share;
  if (captures(bounds.minAreaM2)) return bounds.minAreaM2;
  if (!captures(bounds.maxAreaM2)) return null;
  let [low, high] = [bounds.minAreaM2, bounds.maxAreaM2];
  while (high - low > areaTolerance * high) {
    const middle = (low + high) / 2;
    if (captures(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** A place with the storm gone through it, and the area that the wanted share asks for; its size stays. */
export function simulateSite(
  searched: SearchedLot,
  sized: Sized,
  simulate: SiteSimulator,
): Simulated {
  const wantedShare = searched.input.wantedShare ?? sitingDefaults.wantedShare;
  return {
    filled: simulate(siteToFill(sized, searched.sideSlope)),
    wantedShare,
    areaForShareM2: areaForShare(sized, simulate, wantedShare, searched),
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
  if (resized === null || Array.isArray(resized) || !mayBe(resized)) return { sized, simulated };
  return {
    sized: resized,
    simulated: { ...simulated, filled: simulate(siteToFill(resized, searched.sideSlope)) },
  };
}

/** Areas this near each other are not worth another outline. */
function isNear(a: number, b: number): boolean {
  return Math.abs(a - b) < 0.02 * b;
}
