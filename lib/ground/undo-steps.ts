import type { Grid } from '../elevation/grid';

/** Finer steps do no harm; a raster has more cells than levels by this factor where it was rounded. Our choices, no source. */
const coarseStepM = 0.25;
const cellsForLevel = 4;
const mostLevels = 2000;
/** Heights that differ by less are the same: 32 bits hold no more. */
const sameM = 1e-3;

/**
 * The step to which all heights were rounded, metres, seen from the heights themselves.
 *
 * @returns null where they are all the same, come in finer steps, or in none.
 */
export function coarseStep({ z }: Grid): number | null {
  const levels = new Set<number>();
  let cells = 0;
  for (const heightM of z) {
    if (Number.isNaN(heightM)) continue;
    cells++;
    levels.add(Math.round(heightM / sameM));
    if (levels.size > mostLevels) return null;
  }
  if (levels.size < 2 || cells < cellsForLevel * levels.size) return null;
  const sorted = [...levels].sort((a, b) => a - b);
  const gaps = sorted.slice(1).map((level, i) => level - sorted[i]);
  const least = Math.min(...gaps);
  if (least * sameM < coarseStepM) return null;
  // Each level is off by half a unit, so a gap by one.
  const isWhole = gaps.every((gap) => {
    const steps = Math.round(gap / least);
    return Math.abs(gap - steps * least) <= 1 + steps;
  });
  return isWhole ? least * sameM : null;
}

/**
 * Takes the steps out of heights that were rounded: half a step lies between a level and the next, and in between a height
 * goes by the distances to the edges of its level, lower and upper. No height moves by more than half a step, and none
 * gets a low spot that its level did not have: towards the lower edge the ground falls all the way. Levels with one edge
 * only rise or fall from it as steeply as the others on average, by half a step at most; those without stay.
 *
 * Interpolation between contours by distance from each: Taud, Parrot and Alvarez 1999, from memory; distances along
 * eight neighbours.
 *
 * @param grid - `grid.z` is changed in place. @param stepM - to what its heights were rounded.
 * Cost: linear in the cells, a few passes; 16 bytes for each.
 */
export function undoSteps({ z, width, height }: Grid, stepM: number): void {
  const below = edgeDistances(z, width, height, -1);
  const above = edgeDistances(z, width, height, 1);
  let slopes = 0;
  let between = 0;
  for (let cell = 0; cell < z.length; cell++) {
    if (below[cell] === Infinity || above[cell] === Infinity) continue;
    slopes += 1 / (below[cell] + above[cell]);
    between++;
  }
  const slope = between === 0 ? 0 : slopes / between;
  for (let cell = 0; cell < z.length; cell++) {
    const hasLower = below[cell] !== Infinity;
    const hasUpper = above[cell] !== Infinity;
    if (hasLower && hasUpper) {
      z[cell] += stepM * (below[cell] / (below[cell] + above[cell]) - 0.5);
    } else if (hasLower) z[cell] += stepM * Math.min(0, below[cell] * slope - 0.5);
    else if (hasUpper) z[cell] += stepM * Math.max(0, 0.5 - above[cell] * slope);
  }
}

/** Cells from each cell to the edge of its level towards lower (-1) or higher (1) ground, within the level. */
function edgeDistances(
  z: Float32Array,
  width: number,
  height: number,
  towards: -1 | 1,
): Float64Array {
  const away = new Float64Array(z.length).fill(Infinity);
  let hasChanged = true;
  for (let forth = true, first = true; hasChanged; forth = !forth, first = false) {
    hasChanged = first;
    const step = forth ? 1 : -1;
    for (let cell = forth ? 0 : z.length - 1; cell >= 0 && cell < z.length; cell += step) {
      const row = Math.floor(cell / width);
      const column = cell - row * width;
      for (let r = Math.max(row - 1, 0); r <= Math.min(row + 1, height - 1); r++) {
        for (let c = Math.max(column - 1, 0); c <= Math.min(column + 1, width - 1); c++) {
          const other = r * width + c;
          const apart = r !== row && c !== column ? Math.SQRT2 : 1;
          const rise = z[other] - z[cell];
          const through =
            Math.abs(rise) < sameM
              ? away[other] + apart
              : rise * towards > 0
                ? apart / 2
                : Infinity;
          if (other === cell || !(through < away[cell] - 1e-9)) continue;
          away[cell] = through;
          hasChanged = true;
        }
      }
    }
  }
  return away;
}
