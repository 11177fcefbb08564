import { cellAt, elevationAt, type Grid } from '../../../../lib/elevation/grid';
import type { Frame, LngLat } from '../../../../lib/frame/frame';
import { heightText } from '../../look/height-text';
import type { UnitSystem } from '../../../../lib/units/units';

/** The height of the ground at a place, in words. */
export function groundReadout(place: LngLat, grid: Grid, frame: Frame, units: UnitSystem): string {
  const [x, y] = frame.toLocal(place);
  const cell = cellAt(grid, x, y);
  const heightM = cell < 0 ? Number.NaN : elevationAt(grid, cell);
  if (Number.isNaN(heightM)) return 'no data here';
  return `ground ${heightText(heightM, units, 0.01)} ${units === 'us' ? 'ft' : 'm'}`;
}
