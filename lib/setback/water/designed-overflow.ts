import { isDesigned, type DesignResult } from '../../basin/design/design-result';
import type { Frame, XY } from '../../frame/frame';
import { distanceM } from '../../frame/shapes';
import type { KnownOfBasin } from '../rules/checked-basins';

/**
 * The stretches over the ground that a basin's overflow takes at the peak that its notch is made for, in local metres,
 * by every way where a pipe cannot take all of it, and what the design says of them. A way that ends well, in a street
 * or a swale, ends there: what lies beyond is not reached. `undefined` where the basin cannot be dug.
 */
export function designedOverflow(
  design: DesignResult,
  id: string,
  { toLocal }: Pick<Frame, 'toLocal'>,
): Pick<KnownOfBasin, 'overflowWays' | 'overflowVerdict'> | undefined {
  const basin = design.basins.find((each) => each.id === id);
  if (basin === undefined || !isDesigned(basin)) return undefined;
  const { ways, verdict } = basin.overflow;
  return {
    overflowWays: ways.flatMap(({ legs, result, along_m }) => {
      let leftM = result === 'pass' ? along_m : Infinity;
      return legs.flatMap(({ by, points }) => {
        if (leftM <= 0) return [];
        const reached = within(
          points.map((at) => toLocal(at)),
          leftM,
        );
        leftM = reached.leftM;
        return by === 'ground' ? [reached.points] : [];
      });
    }),
    overflowVerdict: { ...verdict, at: verdict.at && toLocal(verdict.at) },
  };
}

/** As much of a line as so many metres reach, and the metres that are left behind it. */
function within(points: readonly XY[], mostM: number): { points: XY[]; leftM: number } {
  let leftM = mostM;
  for (let i = 1; i < points.length; i++) {
    leftM -= distanceM(points[i - 1], points[i]);
    // Lengths in degrees and back differ in their last digits.
    if (leftM < -1e-6) return { points: points.slice(0, i), leftM: 0 };
  }
  return { points: [...points], leftM };
}
