import { cellAt, cellCentre, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { distanceM } from '../frame/shapes';
import { unmoved, type Edit } from './edit';
import { cellsAround } from './rasterise';

/** A measured height, in local metres and metres above the source's vertical datum. */
export interface SpotHeight {
  readonly id: string;
  readonly at: XY;
  readonly elevationM: number;
  /** How far around it the ground is corrected. */
  readonly influenceM: number;
}

/** How a spot height agrees with the ground. Residuals are measured height less ground, metres; `null` where there is no ground. */
export interface SpotResidual {
  readonly id: string;
  readonly beforeM: number | null;
  readonly afterM: number | null;
}

/** How far around a spot height the ground is corrected where the plan does not say, metres. A choice, no source. */
export const spotInfluenceM = 5;
/** A spot height that differs from the ground by more is taken to be of another datum, metres. A choice, no source. */
export const mostResidualM = 3;

/**
 * Corrects ground by spot heights: exactly at each one's cell, fading out to nothing at its influence.
 *
 * The residuals are interpolated by inverse squared distance (Shepard 1968, from memory) with weights that end at the
 * influence, and the whole is scaled by the strongest of the fading factors (1 - (d / influence)^2)^2. Distances
 * are from the centre of the spot's cell. Spot heights in one cell are averaged.
 *
 * @param grid - the ground so far; `grid.z` is changed in place.
 * Cost: spot heights times cells within their influence.
 */
export function correctBySpotHeights(
  grid: Grid,
  spots: readonly SpotHeight[],
): { readonly residuals: readonly SpotResidual[]; readonly edits: readonly Edit[] } {
  const cells = spots.map(({ at }) => cellAt(grid, at[0], at[1]));
  const before = spots.map((spot, i) => residual(grid, spot, cells[i]));
  const used = before.map((value) => value !== null && Math.abs(value) <= mostResidualM);
  spread(
    grid,
    spots,
    cells,
    before.map((value, i) => (used[i] ? value : null)),
  );
  const residuals = spots.map((spot, i) => ({
    id: spot.id,
    beforeM: before[i],
    afterM: residual(grid, spot, cells[i]),
  }));
  return {
    residuals,
    edits: spots.map(({ id }, i) => unmoved(id, 'spot-height', notesOn(residuals[i], used[i]))),
  };
}

function residual({ z, datumM }: Grid, { elevationM }: SpotHeight, cell: number): number | null {
  return cell === -1 || Number.isNaN(z[cell]) ? null : elevationM - datumM - z[cell];
}

function spread(
  grid: Grid,
  spots: readonly SpotHeight[],
  cells: readonly number[],
  residuals: readonly (number | null)[],
): void {
  const weight = new Map<number, number>();
  const sum = new Map<number, number>();
  const fade = new Map<number, number>();
  const own = new Map<number, number[]>();
  spots.forEach(({ influenceM }, i) => {
    const value = residuals[i];
    if (value === null) return;
    own.set(cells[i], [...(own.get(cells[i]) ?? []), value]);
    const centre = cellCentre(grid, cells[i]);
    for (const cell of cellsAround(grid, [centre], influenceM)) {
      const away = distanceM(cellCentre(grid, cell), centre);
      if (away >= influenceM || away === 0) continue;
      const factor = (1 - (away / influenceM) ** 2) ** 2;
      weight.set(cell, (weight.get(cell) ?? 0) + factor / away ** 2);
      sum.set(cell, (sum.get(cell) ?? 0) + (factor / away ** 2) * value);
      fade.set(cell, Math.max(fade.get(cell) ?? 0, factor));
    }
  });
  for (const [cell, total] of weight) {
    if (!own.has(cell)) grid.z[cell] += ((fade.get(cell) ?? 0) * (sum.get(cell) ?? 0)) / total;
  }
  for (const [cell, values] of own) {
    grid.z[cell] += values.reduce((total, value) => total + value, 0) / values.length;
  }
}

function notesOn({ beforeM, afterM }: SpotResidual, used: boolean): string[] {
  if (beforeM === null || afterM === null) {
    return ['There is no elevation data at it, so it corrects nothing.'];
  }
  const by = `${Math.abs(beforeM).toFixed(2)} m ${beforeM < 0 ? 'below' : 'above'} the elevation data`;
  if (!used) {
    return [
      `It lies ${by}, which is more than ${mostResidualM} m, and corrects nothing: check its unit and vertical datum.`,
    ];
  }
  const left =
    Math.abs(afterM) >= 0.005
      ? `; another spot height in the same cell leaves a difference of ${afterM.toFixed(2)} m`
      : '';
  return Math.abs(beforeM) < 0.005
    ? [`It agrees with the elevation data to the centimetre${left}.`]
    : [`It lies ${by}; the ground around it was corrected${left}.`];
}
