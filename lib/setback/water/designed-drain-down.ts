import { isDesigned, type DesignResult } from '../../basin/design/design-result';

/**
 * Hours that ponded water stands in a basin of a plan by its simulation, as rules judge it: after the event's rain or
 * from full, whichever is longer. `Infinity` where some still stands at the end of the time looked at; `undefined`
 * where nothing is known of the soil, or the basin cannot be dug.
 */
export function designedDrainDownH(design: DesignResult, id: string): number | undefined {
  const basin = design.basins.find((each) => each.id === id);
  if (basin === undefined || !isDesigned(basin)) return undefined;
  const { judged_h, result } = basin.drain_down;
  // Without a rate nothing fails by it: a failure without hours is water that never went.
  return judged_h ?? (result === 'fail' ? Infinity : undefined);
}
