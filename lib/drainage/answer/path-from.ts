import type { Grid } from '../../elevation/grid';
import type { Frame, LngLat } from '../../frame/frame';
import { flowPath } from '../terrain/flow-path';
import type { Routing } from '../terrain/routing';

/**
 * The way of water from a cell to the edge of the data, in longitude and latitude.
 *
 * @returns an empty list for a cell off the grid or without data.
 */
export function pathFrom(routing: Routing, grid: Grid, frame: Frame, cell: number): LngLat[] {
  if (cell === -1) return [];
  const { points } = flowPath(routing, cell);
  const path: LngLat[] = [];
  for (let i = 0; i < points.length; i += 2) {
    path.push(
      frame.toLngLat([
        grid.westM + points[i] * grid.cellM,
        grid.northM - points[i + 1] * grid.cellM,
      ]),
    );
  }
  return path;
}
