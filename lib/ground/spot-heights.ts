import { cellAt, cellCentre, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { distanceM } from '../frame/shapes';
import { unmoved, type Edit } from './edit';
import { cellsAround } from './rasterise';
import { fewestForTrend, trendOf, type Reading } from './reading-trend';
import { coarseStep, undoSteps } from './undo-steps';

/** A measured height, in local metres and metres above the source's vertical datum. */
export interface SpotHeight {
  readonly id: string;
  readonly at: XY;
  readonly elevationM: number;
  /** How far around it the ground is corrected; without it 5 m, or so far that it meets its neighbours. */
  readonly influenceM?: number;
}

/** How a spot height agrees with the ground. Residuals are measured height less ground, metres; `null` where there is no ground. */
export interface SpotResidual {
  readonly id: string;
  readonly beforeM: number | null;
  readonly afterM: number | null;
}

/** How far around a spot height the ground is corrected where the plan does not say, metres. Our choice, no source. */
export const spotInfluenceM = 5;
/** Without a word of the plan the influence reaches past the nearest other spot height by this factor, and at most so far. */
const pastNeighbour = 1.5;
const farthestInfluenceM = 15;
/** A spot height that differs from the ground by more is taken to be of another datum, metres. Our choice, no source. */
export const mostResidualM = 3;
/**
 * Ground is no better than guessed where it leaves more than this, metres, and spot heights lie so much closer, as a
 * share of the variance, on a plain surface of their own. Our choices, no source.
 */
const roughM = 0.05;
const muchCloser = 0.25;

/**
 * Corrects ground by spot heights: exactly at each one's cell, fading out around it.
 *
 * Under four or more, steps to which all the ground was rounded are taken out first (`undoSteps`). What their residuals
 * have in common (`trendOf`) is added to the whole ground: were it to fade out too, ground that is too high or too flat
 * everywhere would stand as a dam around the lot where it was measured. Ground that is coarse, its cells or the steps of
 * its heights, then gives way around the spot heights to the surface that they have in common. What is left is
 * interpolated by inverse squared distance (Shepard 1968, from memory) with weights that end at the influence, and the
 * whole is scaled by the strongest of the fading factors (1 - (d / influence)^2)^2.
 * Distances are from the centre of the spot's cell. Spot heights in one cell are averaged.
 *
 * @param grid - the ground so far; `grid.z` is changed in place.
 * Cost: spot heights times cells within their influence, and a pass over the grid where there is a trend.
 */
export function correctBySpotHeights(
  grid: Grid,
  spots: readonly SpotHeight[],
): { readonly residuals: readonly SpotResidual[]; readonly edits: readonly Edit[] } {
  const cells = spots.map(({ at }) => cellAt(grid, at[0], at[1]));
  const before = spots.map((spot, i) => residual(grid, spot, cells[i]));
  const isUsed = before.map((value) => value !== null && Math.abs(value) <= mostResidualM);
  const used = usedSpots(
    grid,
    spots.filter((_, i) => isUsed[i]),
  );
  const stepM = used.length < fewestForTrend ? null : coarseStep(grid);
  if (stepM !== null) undoSteps(grid, stepM);
  const left = trendOf(readings(used, (spot) => spot.heightM - grid.z[spot.cell]));
  const own = trendOf(readings(used, (spot) => spot.heightM));
  if (left.at !== null) add(grid, left.at);
  const isCoarse = left.variance > roughM ** 2 && own.variance < muchCloser * left.variance;
  if (own.at !== null && isCoarse) giveWay(grid, used, own.at);
  spread(grid, used);
  const residuals = spots.map((spot, i) => ({
    id: spot.id,
    beforeM: before[i],
    afterM: residual(grid, spot, cells[i]),
  }));
  return {
    residuals,
    edits: spots.map(({ id }, i) =>
      unmoved(id, 'spot-height', [
        ...notesOn(residuals[i], isUsed[i], left.at !== null),
        ...(i === 0 && stepM !== null ? [stepsNote(stepM)] : []),
      ]),
    ),
  };
}

function stepsNote(stepM: number): string {
  return `The elevation data come in steps of ${stepM.toFixed(2)} m: between the edges of each step the ground is taken to fall evenly, and low spots shallower than a step cannot be judged where nothing was measured.`;
}

function residual({ z, datumM }: Grid, { elevationM }: SpotHeight, cell: number): number | null {
  return cell === -1 || Number.isNaN(z[cell]) ? null : elevationM - datumM - z[cell];
}

/** A spot height that corrects: its cell, its height in the grid's own metres and how far it reaches. */
interface UsedSpot {
  readonly cell: number;
  readonly centre: XY;
  readonly heightM: number;
  readonly influenceM: number;
}

function usedSpots(grid: Grid, spots: readonly SpotHeight[]): UsedSpot[] {
  const places = spots.map(({ at }) => {
    const cell = cellAt(grid, at[0], at[1]);
    return { cell, centre: cellCentre(grid, cell) };
  });
  return spots.map(({ elevationM, influenceM }, i) => {
    const { cell, centre } = places[i];
    const others = places.filter((place) => place.cell !== cell);
    const nearestM = Math.min(...others.map((place) => distanceM(centre, place.centre)));
    const pastM = others.length === 0 ? 0 : pastNeighbour * nearestM;
    return {
      cell,
      centre,
      heightM: elevationM - grid.datumM,
      influenceM: influenceM ?? Math.min(Math.max(spotInfluenceM, pastM), farthestInfluenceM),
    };
  });
}

function readings(used: readonly UsedSpot[], valueOf: (spot: UsedSpot) => number): Reading[] {
  return used.map((spot) => ({ at: spot.centre, valueM: valueOf(spot) }));
}

function add(grid: Grid, at: (place: XY) => number): void {
  for (let cell = 0; cell < grid.z.length; cell++) grid.z[cell] += at(cellCentre(grid, cell));
}

/** Draws the ground towards a surface, wholly at the spot heights and less and less around them. */
function giveWay(grid: Grid, used: readonly UsedSpot[], at: (place: XY) => number): void {
  const fade = new Map<number, number>();
  for (const spot of used) {
    for (const { cell, factor } of cellsWithin(grid, spot)) {
      fade.set(cell, Math.max(fade.get(cell) ?? 0, factor));
    }
  }
  for (const [cell, factor] of fade) {
    grid.z[cell] += factor * (at(cellCentre(grid, cell)) - grid.z[cell]);
  }
}

function spread(grid: Grid, used: readonly UsedSpot[]): void {
  const weight = new Map<number, number>();
  const sum = new Map<number, number>();
  const fade = new Map<number, number>();
  const own = new Map<number, number[]>();
  for (const spot of used) {
    const value = spot.heightM - grid.z[spot.cell];
    own.set(spot.cell, [...(own.get(spot.cell) ?? []), value]);
    for (const { cell, away, factor } of cellsWithin(grid, spot)) {
      if (away === 0) continue;
      weight.set(cell, (weight.get(cell) ?? 0) + factor / away ** 2);
      sum.set(cell, (sum.get(cell) ?? 0) + (factor / away ** 2) * value);
      fade.set(cell, Math.max(fade.get(cell) ?? 0, factor));
    }
  }
  for (const [cell, total] of weight) {
    if (!own.has(cell)) grid.z[cell] += ((fade.get(cell) ?? 0) * (sum.get(cell) ?? 0)) / total;
  }
  for (const [cell, values] of own) {
    grid.z[cell] += values.reduce((total, value) => total + value, 0) / values.length;
  }
}

/** Cells within the influence of a spot height, with their distance and fading factor. */
function* cellsWithin(
  grid: Grid,
  { centre, influenceM }: UsedSpot,
): Generator<{ cell: number; away: number; factor: number }> {
  for (const cell of cellsAround(grid, [centre], influenceM)) {
    const away = distanceM(cellCentre(grid, cell), centre);
    if (away < influenceM) yield { cell, away, factor: (1 - (away / influenceM) ** 2) ** 2 };
  }
}

function notesOn({ beforeM, afterM }: SpotResidual, used: boolean, hasTrend: boolean): string[] {
  if (beforeM === null || afterM === null) {
    return ['There is no elevation data at it, so it corrects nothing.'];
  }
  const by = `${Math.abs(beforeM).toFixed(2)} m ${beforeM < 0 ? 'below' : 'above'} the elevation data`;
  if (!used) {
    return [
      `It lies ${by}, which is more than ${mostResidualM} m, and corrects nothing: check its unit and vertical datum.`,
    ];
  }
  const whole = hasTrend ? ', and all of it by what the spot heights have in common' : '';
  const left =
    Math.abs(afterM) >= 0.005
      ? `; another spot height in the same cell leaves a difference of ${afterM.toFixed(2)} m`
      : '';
  return Math.abs(beforeM) < 0.005
    ? [`It agrees with the elevation data to the centimetre${left}.`]
    : [`It lies ${by}; the ground around it was corrected${whole}${left}.`];
}
