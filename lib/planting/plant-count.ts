/** How plants stand to one another. */
export type PlantGrid = 'square' | 'triangular';

/** Rows of a triangular grid lie closer than its plants: sin 60 degrees. */
const rowShare = Math.sqrt(3) / 2;

/** Ground that one plant has on a grid, m2. */
export function areaOfPlantM2(spacingM: number, grid: PlantGrid): number {
  return spacingM ** 2 * (grid === 'square' ? 1 : rowShare);
}

/**
 * Plants for an area, not rounded.
 *
 * The sum by area: 100 ft2 at 12 in take 100 on a square grid and 115.5 on a triangular one.
 *
 * @param spacingM - from plant to plant: the mature spread.
 */
export function plantsFor(areaM2: number, spacingM: number, grid: PlantGrid): number {
  return areaM2 / areaOfPlantM2(spacingM, grid);
}
