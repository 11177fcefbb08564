import { cellAt } from '../../elevation/grid';
import { centroid } from '../../frame/shapes';
import type { Ground } from '../../ground/ground';
import type { LocalPlan } from '../../plan/local-plan';
import { roofsOf } from './roof-water';

/**
 * Open ground of a lot by class of surface, square metres: cells under roofs and without data left out.
 *
 * @param classOf - index of the class of each cell, from 0 to `classes` - 1 on open ground.
 * @param lot - index of the lot in the ground's list.
 * Cost: the lot's cells.
 */
export function openAreasM2(
  { grid, lots, sheltered }: Pick<Ground, 'grid' | 'lots' | 'sheltered'>,
  classOf: ArrayLike<number>,
  classes: number,
  lot: number,
): Float64Array<ArrayBuffer> {
  const areasM2 = new Float64Array(classes);
  for (const cell of lots[lot].cells) {
    if (sheltered[cell] === 0 && !Number.isNaN(grid.z[cell])) areasM2[classOf[cell]]++;
  }
  const cellM2 = grid.cellM ** 2;
  for (let i = 0; i < classes; i++) areasM2[i] *= cellM2;
  return areasM2;
}

/** Plan area of the roofs of a lot, square metres. */
export function roofAreaM2(ground: Ground, plan: LocalPlan, lot: number): number {
  return roofsOf(plan)
    .filter(({ id }) => ownerOfRoof(ground, plan, id) === lot)
    .reduce((sum, { areaM2 }) => sum + areaM2, 0);
}

/** Index of the lot that a roof's middle lies on, the number of lots when on none. */
export function ownerOfRoof({ grid, lots, lotOf }: Ground, plan: LocalPlan, id: string): number {
  const feature = plan.byId.get(id);
  if (feature?.shape.type !== 'polygon') return lots.length;
  const [x, y] = centroid(feature.shape.rings);
  const cell = cellAt(grid, x, y);
  return cell === -1 || lotOf[cell] === -1 ? lots.length : lotOf[cell];
}
