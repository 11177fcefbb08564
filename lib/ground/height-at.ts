import { cellAt, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';

/**
 * Height of the ground at a point, by bilinear interpolation between cell centres; the height of the cell at the
 * point where one of the four has no data or lies outside.
 *
 * @returns in the unit of the grid, `NaN` outside it and without data.
 */
export function heightAt(grid: Grid, [x, y]: XY): number {
  const { width, z } = grid;
  const column = (x - grid.westM) / grid.cellM - 0.5;
  const row = (grid.northM - y) / grid.cellM - 0.5;
  const c = Math.floor(column);
  const r = Math.floor(row);
  if (c >= 0 && r >= 0 && c + 1 < width && r + 1 < grid.height) {
    const at = r * width + c;
    const east = column - c;
    const south = row - r;
    const north = z[at] + east * (z[at + 1] - z[at]);
    const below = z[at + width] + east * (z[at + width + 1] - z[at + width]);
    const height = north + south * (below - north);
    if (!Number.isNaN(height)) return height;
  }
  const cell = cellAt(grid, x, y);
  return cell === -1 ? NaN : z[cell];
}
