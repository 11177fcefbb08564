import type { Antecedent } from '../plan/storm-settings';
import { antecedentCurveNumber } from './antecedent';
import { curveNumber, roofCurveNumber } from './curve-numbers';
import type { SurfaceClass } from './surface-class';

/**
 * The curve number of a surface for the state of the ground before the storm. Roofs and paving keep theirs: what the
 * state changes is the room for water in soil.
 */
export function stormCurveNumber(surface: SurfaceClass, antecedent: Antecedent): number {
  const { cover, condition, group } = surface;
  // all that falls into a basin comes to it
  if (cover === 'basin') return 100;
  if (isSealed(cover)) return roofCurveNumber;
  return antecedentCurveNumber(curveNumber(cover, condition, group), antecedent);
}

/** Whether a surface takes in no water at all; what a basin takes in is followed by itself. */
export function isSealed(cover: SurfaceClass['cover']): cover is 'roof' | 'paving' | 'basin' {
  return cover === 'roof' || cover === 'paving' || cover === 'basin';
}
