import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { CountedEdits, type Edit } from './edit';
import { cellsBeside, profileAlong } from './line-profile';

/** A berm as it is to be, in local metres. */
export interface BermShape {
  readonly id: string;
  readonly points: readonly XY[];
  /** Of the level crest. */
  readonly widthM: number;
  /** Of the crest above the ground beside the berm. */
  readonly heightM: number;
  /** Run of the sides for one of rise. */
  readonly sideSlope: number;
}

/** Sizes of a berm where the plan gives none. Common practice, no source. */
export const bermDefaults = { widthM: 0.6, heightM: 0.3, sideSlope: 3 } as const;

/**
 * Heaps up a berm: a crest its height above the ground at its shoulders, with sloping sides, round at the
 * ends. One that the elevation shows already is not heaped up twice. Ground that is higher stays as it is.
 *
 * @param grid - the ground so far; `grid.z` is changed in place.
 */
export function heapBerm(grid: Grid, berm: BermShape): Edit {
  const { widthM, heightM, sideSlope } = berm;
  const profile = profileAlong(grid, berm.points, widthM / 2 + heightM * sideSlope + grid.cellM);
  const crestM = profile.groundM.map((ground) => ground + heightM);
  const earth = new CountedEdits(grid.z, grid.cellM * grid.cellM);
  // Twice what level ground asks: on a slope the downhill side reaches further.
  const reachM = widthM / 2 + 2 * heightM * sideSlope;
  for (const { cell, awayM, levelM } of cellsBeside(grid, profile, crestM, reachM)) {
    const beyond = awayM - widthM / 2;
    if (beyond > 0 && sideSlope === 0) continue;
    const top = levelM - (beyond > 0 ? beyond / sideSlope : 0);
    if (top > grid.z[cell]) earth.set(cell, top);
  }
  return earth.edit(berm.id, 'berm');
}
