import type { Grid } from '../grid';
import { type Note, warning } from '../note';

/** Cells coarser than this do not show single roofs, metres. */
const coarsestM = 3;
/** Water runs round what stands up by this within a cell, metres; on cells coarser than that, steeper than 45 degrees. */
const leastStepM = 1;
/** What is lower on this share of its edge stands up from the ground; the rest may lean on something higher. */
const mostlyLower = 0.75;
/** From so much that stands up, m2 and share of the data, heights are taken for a surface model. */
const leastRaisedM2 = 40;
const leastRaisedShare = 0.002;
/** Squares over which the lowest height is looked at, metres, and how near zero it lies where the ground was taken off. */
const squareM = 20;
const nearZeroM = 0.3;

/**
 * Notices heights that are not those of the bare earth: roofs and trees stand up from them on steep sides all round, and
 * where the ground was taken off besides, the lowest of every neighbourhood is zero.
 *
 * The bounds are our choices, no source: on three surface models and two rasters of heights above ground (cells of 0.5 and
 * 2 m) 1.2 to 11 % of the area stands up so, on six of bare earth, a hillside of 45 degrees among them, none.
 *
 * @param grid - heights in metres.
 * Cost: linear, about ten passes over the cells; 5 bytes for each.
 */
export function surfaceModelNotes(grid: Grid): Note[] {
  if (grid.cellM > coarsestM) return [];
  const { raisedM2, dataM2 } = raisedArea(grid);
  if (raisedM2 < leastRaisedM2 || raisedM2 < leastRaisedShare * dataM2) return [];
  const share = Math.max(1, Math.round((100 * raisedM2) / dataM2));
  const seen = `on ${share} % of it roofs or trees stand up`;
  const text = liesOnZero(grid)
    ? `These look like heights above the ground, not elevation: ${seen}, and it is zero everywhere between. They do not say which way the ground falls. Take a model of the bare earth (DTM).`
    : `This looks like a surface model: ${seen}, and water would run over them. Take a model of the bare earth (DTM).`;
  return [{ ...warning('surface-model', text), atTop: true }];
}

/** Area of what stands up on steep sides, and of all cells with data, m2. */
function raisedArea({ z, width, cellM }: Grid): { raisedM2: number; dataM2: number } {
  const stepM = Math.max(leastStepM, cellM);
  const isSeen = new Uint8Array(z.length);
  const waiting = new Int32Array(z.length);
  let raised = 0;
  let data = 0;
  for (let start = 0; start < z.length; start++) {
    if (isSeen[start] === 1 || Number.isNaN(z[start])) continue;
    // Cells that are joined without a step.
    let cells = 0;
    let lower = 0;
    let edge = 0;
    let last = 0;
    waiting[last++] = start;
    isSeen[start] = 1;
    while (last > 0) {
      const cell = waiting[--last];
      const column = cell % width;
      cells++;
      if (column > 0) cross(cell, cell - 1);
      else edge++;
      if (column < width - 1) cross(cell, cell + 1);
      else edge++;
      if (cell >= width) cross(cell, cell - width);
      else edge++;
      if (cell < z.length - width) cross(cell, cell + width);
      else edge++;
    }
    data += cells;
    if (edge > 0 && lower >= mostlyLower * edge) raised += cells;

    function cross(from: number, to: number): void {
      const rise = z[to] - z[from];
      if (Math.abs(rise) <= stepM) {
        if (isSeen[to] === 1) return;
        isSeen[to] = 1;
        waiting[last++] = to;
        return;
      }
      edge++;
      if (rise < 0) lower++;
    }
  }
  return { raisedM2: raised * cellM * cellM, dataM2: data * cellM * cellM };
}

/** Whether the lowest height of most neighbourhoods is zero. */
function liesOnZero({ z, width, height, cellM, datumM }: Grid): boolean {
  const side = Math.max(1, Math.round(squareM / cellM));
  let squares = 0;
  let atZero = 0;
  for (let top = 0; top < height; top += side) {
    for (let left = 0; left < width; left += side) {
      let lowest = Infinity;
      for (let r = top; r < Math.min(top + side, height); r++) {
        for (let c = left; c < Math.min(left + side, width); c++) {
          if (z[r * width + c] < lowest) lowest = z[r * width + c];
        }
      }
      if (lowest === Infinity) continue;
      squares++;
      if (Math.abs(datumM + lowest) <= nearZeroM) atZero++;
    }
  }
  return atZero > squares / 2;
}
