import { makeFrame } from '../../frame/frame';
import { areaM2, contains } from '../../frame/shapes';
import { type Area, areaPoints, isBox } from './area';
import type { FilledHoles } from './fill-holes';
import { cellCentre, type Grid } from '../grid';
import { info, type Note, round, warning } from '../note';
import type { WindowPlan } from './plan-window';

/** Largest hole that is filled: common practice, no source; about a parked car, a shrub or a well house. */
export const FILLED_HOLE_M2 = 25;
/** Cells coarser than these blur the ditches and kerbs that decide where water goes (our choice, no source). */
const COARSE_CELL_M = 2;
const TOO_COARSE_CELL_M = 5;

/** Says which holes were filled and which were left. */
export function holeNotes(holes: FilledHoles): Note[] {
  const notes: Note[] = [];
  if (holes.count > 0) {
    notes.push(
      info(
        'holes-filled',
        `${plural(holes.count, 'small hole')} in the data (${round(holes.areaM2)} m² in all) ${holes.count === 1 ? 'was' : 'were'} filled smoothly from around.`,
      ),
    );
  }
  if (holes.leftCount > 0) {
    notes.push(
      warning(
        'holes-left',
        `${plural(holes.leftCount, 'hole')} in the data larger than ${FILLED_HOLE_M2} m² (${round(holes.leftAreaM2)} m² in all) ${holes.leftCount === 1 ? 'is' : 'are'} left empty: water that reaches one leaves the reckoning there.`,
      ),
    );
  }
  return notes;
}

/** Says how much of the area holds no data, where it is more than a trifle. */
export function missingOnArea(grid: Grid, area: Area): Note[] {
  const { toLocal } = makeFrame(grid.frame);
  const local = areaPoints(area).map((point) => toLocal(point));
  const rings = isBox(area) ? null : area.map((ring) => ring.map((point) => toLocal(point)));
  const column = (x: number): number => Math.floor((x - grid.westM) / grid.cellM);
  const row = (y: number): number => Math.floor((grid.northM - y) / grid.cellM);
  const left = Math.max(column(Math.min(...local.map(([x]) => x))), 0);
  const right = Math.min(column(Math.max(...local.map(([x]) => x))), grid.width - 1);
  const top = Math.max(row(Math.max(...local.map(([, y]) => y))), 0);
  const bottom = Math.min(row(Math.min(...local.map(([, y]) => y))), grid.height - 1);
  let missing = 0;
  for (let r = top; r <= bottom; r++) {
    for (let c = left; c <= right; c++) {
      const cell = r * grid.width + c;
      if (!Number.isNaN(grid.z[cell])) continue;
      if (rings === null || contains(rings, cellCentre(grid, cell))) missing++;
    }
  }
  const inBox = (right - left + 1) * (bottom - top + 1);
  const all = rings === null ? inBox : Math.max(missing, areaM2(rings) / grid.cellM ** 2);
  const share = missing === 0 ? 0 : missing / all;
  if (share < 0.01) return [];
  return [
    warning(
      'area-without-data',
      `${(100 * share).toFixed(0)} % of the lot holds no elevation data.`,
    ),
  ];
}

/** Warns of coarse cells, and says why and to what a raster was interpolated. */
export function cellNotes(plan: WindowPlan): Note[] {
  const notes: Note[] = [];
  if (plan.resampled) {
    notes.push(
      info(
        'resampled',
        `The raster cannot be used cell for cell because ${plan.why}; it was interpolated to cells of ${round(plan.cells.cellM)} m.`,
      ),
    );
  }
  if (plan.sourceCellM > TOO_COARSE_CELL_M * (1 + 1e-3)) {
    notes.push({
      ...warning(
        'too-coarse-cells',
        `These heights cannot show a yard: the cells are ${round(plan.sourceCellM)} m wide. Above ${TOO_COARSE_CELL_M} m no low spot of a lot can be seen and no site is chosen. Look for elevation of 1 m or finer, or measure levels.`,
      ),
      refusesSiting: true,
      atTop: true,
    });
  } else if (plan.sourceCellM > COARSE_CELL_M * (1 + 1e-3)) {
    notes.push({
      ...warning(
        'coarse-cells',
        `The cells are ${round(plan.sourceCellM)} m wide: swales, kerbs and small low spots do not show. Look for elevation of 1 m or finer.`,
      ),
      atTop: true,
    });
  }
  return notes;
}

function plural(count: number, word: string): string {
  return count === 1 ? `One ${word}` : `${count} ${word}s`;
}
