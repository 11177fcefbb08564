import type { XY } from '../../../../lib/frame/frame';
import { innermost } from '../../../../lib/frame/innermost';

/** A place for a label inside a ring and outside its holes: well inside, and a little towards the middle of its box. */
export function labelPoint(ring: readonly XY[], holes: readonly (readonly XY[])[] = []): XY {
  return innermost([ring, ...holes], 0.1);
}
