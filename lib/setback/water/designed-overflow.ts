import { isDesigned, type DesignResult } from '../../basin/design/design-result';
import type { Frame, XY } from '../../frame/frame';

/**
 * The stretches over the ground that a basin's overflow takes at the peak that its notch is made for, in local metres,
 * by every way where a pipe cannot take all of it; `undefined` where the basin cannot be dug.
 */
export function designedOverflow(
  design: DesignResult,
  id: string,
  { toLocal }: Pick<Frame, 'toLocal'>,
): XY[][] | undefined {
  const basin = design.basins.find((each) => each.id === id);
  if (basin === undefined || !isDesigned(basin)) return undefined;
  return basin.overflow.ways.flatMap(({ legs }) =>
    legs.flatMap(({ by, points }) => (by === 'ground' ? [points.map((at) => toLocal(at))] : [])),
  );
}
