import type { XY } from '../../../../lib/frame/frame';
import { areaM2 as areaOf } from '../../../../lib/frame/shapes';
import { rimAt, type BasinOutline } from '../../../../lib/siting/sizing/basin-outline';

/**
 * The rim of an outline with half the corners that the search gives it, so that a hand can take hold of each: its
 * sides lie within 0.5 % of the radius of the true curve, and its area is exact.
 *
 * @returns x, y of each corner, counter-clockwise, not repeated.
 */
export function handRim(outline: BasinOutline, centre: XY, areaM2: number): XY[] {
  const thin = (sizeM2: number): XY[] =>
    rimAt(outline, centre, sizeM2).filter((_, corner) => corner % 2 === 0);
  return thin((areaM2 * areaM2) / areaOf([thin(areaM2)]));
}
