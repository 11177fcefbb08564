import { classDepthM } from '../../basin/form/size-factors';
import type { XY } from '../../frame/frame';
import { meshCentre } from '../refused/mesh';
import { areApart } from '../sizing/rank-sites';
import type { SearchedLot } from '../sizing/searched-lot';
import { rimAt, type BasinOutline } from '../sizing/basin-outline';

/** A basin that keeps every binding rule, water left out of account. */
export interface RoomFor {
  readonly at: XY;
  readonly outline: BasinOutline;
  readonly areaM2: number;
  readonly rim: readonly XY[];
}

/** Smaller than this it is a planted bed, m2. Our choice, no source. */
export const leastGardenM2 = 1;
/** Each find must be this much larger than the last, so that the search ends. */
const grow = 1.03;

/**
 * The largest basin that any outline makes anywhere on the own lots: every allowed cell of the mesh is tried with every
 * outline, and the rim is checked by every rule.
 *
 * @param beside - basins that it must lie apart from.
 * @returns `null` when not even the least garden fits; the area is good to 3 %, the place to a cell.
 * Cost: allowed cells times outlines times a few corners; some checks.
 */
export function largestBasin(
  searched: SearchedLot,
  fromM2: number = leastGardenM2,
  beside: readonly RoomFor[] = [],
): RoomFor | null {
  const { mesh } = searched.forbidden;
  let best: RoomFor | null = null;
  let nextM2 = fromM2;
  for (let cell = 0; cell < mesh.columns * mesh.rows; cell++) {
    if (!searched.isAllowed(cell)) continue;
    const at = meshCentre(mesh, cell);
    for (const outline of searched.outlines) {
      while (
        nextM2 <= searched.maxAreaM2 &&
        searched.margins.fitting(outline, at, nextM2) !== null
      ) {
        const rim = rimAt(outline, at, nextM2);
        const found = { at, outline, areaM2: nextM2, rim };
        if (!beside.every((other) => areApart(found, other))) break;
        if (searched.check(rim, classDepthM.shallow).summary.must_fail > 0) break;
        best = found;
        nextM2 *= grow;
      }
    }
    if (nextM2 > searched.maxAreaM2) break;
  }
  return best;
}
