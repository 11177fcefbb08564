import type { XY } from '../../frame/frame';
import { patchesOf } from './contributing-area';
import type { ShapedGround } from '../storm/shaped-ground';

/** Water shallower than this is left out of outlines, metres. Our choice, no source. */
export const outlinedFromM = 0.005;

/** The outlines of standing water in local metres, patches under a square metre left out. Cost: O(n). */
export function pondingOutlines(
  { ground }: Pick<ShapedGround, 'ground'>,
  depthM: Float32Array,
): XY[][][] {
  const mask = new Uint8Array(depthM.length);
  for (let cell = 0; cell < mask.length; cell++) mask[cell] = depthM[cell] > outlinedFromM ? 1 : 0;
  return patchesOf(ground.grid, mask);
}
