import type { Grid } from '../../../lib/elevation/grid';
import { makeFrame, type LngLat } from '../../../lib/frame/frame';
import type { Ground } from '../../../lib/ground/ground';
import {
  cellElevations,
  cellsOf,
  elevationsAt,
  stationsAlong,
} from '../../../lib/ground/sampled-line';
import type { ProfilePicture } from './analysis-api';

/** Heights along a line, as read and as the plan has them. */
export function profilePicture(
  read: Grid,
  { grid, obstacle }: Pick<Ground, 'grid' | 'obstacle'>,
  line: readonly LngLat[],
): ProfilePicture {
  const frame = makeFrame(grid.frame);
  const stations = stationsAlong(
    line.map((at) => frame.toLocal(at)),
    grid.cellM / 2,
  );
  const places = stations.map(({ at }) => at);
  const cells = cellsOf(grid, places);
  return {
    line,
    alongM: Float64Array.from(stations, ({ alongM }) => alongM),
    places: places.map((at) => frame.toLngLat(at)),
    readM: elevationsAt(read, places),
    plannedM: elevationsAt(grid, places, obstacle),
    cells,
    cellM: cellElevations(grid, cells),
  };
}
