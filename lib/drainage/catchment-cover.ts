import type { Grid } from '../elevation/grid';
import type { Ground } from '../ground/ground';
import type { Surfaces } from './surface-run-off';
import type { BareTerrain } from './terrain';

/** What covers each cell, as far as run-off goes. */
export interface Cover {
  /** Number of the surfaces' classes. */
  readonly classes: number;
  /** For each cell of open ground the index of its class; for one under a roof or without data `classes`. */
  readonly classOf: Uint16Array<ArrayBuffer>;
}

/** The surfaces with roofs and cells without data set apart, which give nothing to the ground. Cost: O(n). */
export function coverOf(
  { z }: Pick<Grid, 'z'>,
  { sheltered }: Pick<Ground, 'sheltered'>,
  surfaces: Pick<Surfaces, 'classes' | 'classOf'>,
): Cover {
  const classes = surfaces.classes.length;
  const classOf = surfaces.classOf.slice();
  for (let cell = 0; cell < classOf.length; cell++) {
    if (sheltered[cell] !== 0 || Number.isNaN(z[cell])) classOf[cell] = classes;
  }
  return { classes, classOf };
}

/**
 * Cells by catchment and class: element `catchment * (classes + 1) + class`. Run-off is the same on all cells of a
 * class, so with these counts that of another depth of rain is summed over catchments and not over cells.
 *
 * @returns an array in the terrain's workspace.
 * Cost: O(n).
 */
export function coverByCatchment(
  { catchment, tree, workspace }: Pick<BareTerrain, 'catchment' | 'tree' | 'workspace'>,
  { classes, classOf }: Cover,
): Int32Array {
  const columns = classes + 1;
  const cells = workspace.int32('cover by catchment', (tree.pits + 1) * columns).fill(0);
  for (let cell = 0; cell < classOf.length; cell++) {
    cells[catchment[cell] * columns + classOf[cell]]++;
  }
  return cells;
}

/**
 * Inflow to each catchment, as `pourStorm` takes it.
 *
 * @param cells - from `coverByCatchment`.
 * @param classRunOffMm - for each class.
 * @returns metres times cells; element 0 is what drains off the map directly.
 * Cost: O(catchments).
 */
export function inflowByClass(
  cells: Int32Array,
  classRunOffMm: Float64Array,
  out: Float64Array = new Float64Array(cells.length / (classRunOffMm.length + 1)),
): Float64Array {
  const runOffM = classRunOffMm.map((depthMm) => depthMm / 1000);
  for (let catchment = 0, at = 0; catchment < out.length; catchment++, at++) {
    let sum = 0;
    for (let index = 0; index < runOffM.length; index++) sum += cells[at++] * runOffM[index];
    out[catchment] = sum;
  }
  return out;
}
