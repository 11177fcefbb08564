import type { Grid } from '../../elevation/grid';
import { heightAt } from '../../ground/height-at';
import { boundaryDistance, isInside, type Outline } from '../../setback/measure/outline';

/**
 * What is dug for a level bowl whose water stands at the lowest ground along the rim, so that no berm is needed, m3:
 * over each cell the ground above the bowl. On level ground it is the bowl itself.
 */
export function levelCutM3(
  grid: Grid,
  rim: Outline,
  cells: Int32Array,
  depthM: number,
  sideSlope: number,
): number {
  let lowest = Infinity;
  for (let v = 0; v < rim.vertices.length; v += 2) {
    const height = heightAt(grid, [rim.vertices[v], rim.vertices[v + 1]]);
    if (height < lowest) lowest = height;
  }
  if (lowest === Infinity) return 0;
  let sum = 0;
  for (const cell of cells) {
    const z = grid.z[cell];
    if (Number.isNaN(z)) continue;
    const row = Math.floor(cell / grid.width);
    const x = grid.westM + (cell - row * grid.width + 0.5) * grid.cellM;
    const y = grid.northM - (row + 0.5) * grid.cellM;
    const inM = isInside(rim, x, y) ? boundaryDistance(rim, x, y) : 0;
    const bowl = lowest - (sideSlope > 0 ? Math.min(depthM, inM / sideSlope) : depthM);
    if (z > bowl) sum += z - bowl;
  }
  return sum * grid.cellM * grid.cellM;
}
