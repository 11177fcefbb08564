import type { OverflowCourse } from '../../drainage/answer/overflow-course';
import type { ShapedGround } from '../../drainage/storm/shaped-ground';
import { cellAt } from '../../elevation/grid';
import { distanceM } from '../../frame/shapes';
import type { BasinForm } from '../../ground/basin-form';
import { shallowFlowMPerS } from '../../storm/travel-time';
import type { LinkedBasin } from '../filling/in-series';
import { leastSlope } from '../filling/way-to-basin';

/**
 * The basin that most of the overflow comes to first, and how long it runs there in a runnel. Through a pipe it gets on
 * at once, as roof water does.
 *
 * @param course - of the overflow; its first way counts, for all of it.
 * @param others - the other basins.
 */
export function nextBasin(
  { ground: { grid } }: Pick<ShapedGround, 'ground'>,
  { ways }: Pick<OverflowCourse, 'ways'>,
  others: readonly Pick<BasinForm, 'id' | 'cells'>[],
): LinkedBasin['overflowsTo'] {
  const owner = new Map<number, string>();
  for (const { id, cells } of others) for (const cell of cells) owner.set(cell, id);
  let lengthM = 0;
  let fallM = 0;
  for (const { by, points } of ways.at(0)?.legs ?? []) {
    if (by === 'pipe') continue;
    for (let i = 0; i < points.length; i++) {
      const cell = cellAt(grid, ...points[i]);
      if (cell === -1) continue;
      if (i > 0) {
        const before = cellAt(grid, ...points[i - 1]);
        lengthM += distanceM(points[i - 1], points[i]);
        if (before !== -1) fallM += grid.z[before] - grid.z[cell];
      }
      const id = owner.get(cell);
      if (id === undefined) continue;
      const slope = Math.max(leastSlope, lengthM > 0 ? fallM / lengthM : 0);
      return { id, delayS: lengthM / shallowFlowMPerS(slope, false) };
    }
  }
  return null;
}
