import { cellCentre, type Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { distanceM } from '../../frame/shapes';

/** The deepest water that stands within a reach of a place (a cell at least), metres; 0 where none does. */
export function deepestNear(grid: Grid, depthM: Float32Array, at: XY, reachM: number): number {
  const reach = Math.max(reachM, grid.cellM);
  const steps = Math.ceil(reach / grid.cellM);
  const column = Math.floor((at[0] - grid.westM) / grid.cellM);
  const row = Math.floor((grid.northM - at[1]) / grid.cellM);
  let deepest = 0;
  for (let r = Math.max(0, row - steps); r <= Math.min(grid.height - 1, row + steps); r++) {
    for (let c = Math.max(0, column - steps); c <= Math.min(grid.width - 1, column + steps); c++) {
      const cell = r * grid.width + c;
      if (distanceM(cellCentre(grid, cell), at) <= reach) deepest = Math.max(deepest, depthM[cell]);
    }
  }
  return deepest;
}
