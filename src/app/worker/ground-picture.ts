import { chooseInterval, contours } from '../../../lib/elevation/picture/contours';
import { gridCorners } from '../../../lib/elevation/grid-corners';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import { shade } from '../../../lib/elevation/picture/shade';
import type { UnitSystem } from '../../../lib/units/units';
import type { Progress } from '../../../lib/errors';
import { makeFrame } from '../../../lib/frame/frame';
import type { ContourLine, GroundPicture } from './analysis-api';

/**
 * Draws relief and contours of a window of elevations for the sheet.
 *
 * @param number - of the survey that read it. @param units - in whose round heights contours lie.
 */
export function groundPicture(
  number: number,
  elevation: Elevation,
  units: UnitSystem,
  onProgress: Progress,
): GroundPicture {
  const { grid, notes, lowestM, highestM } = elevation;
  onProgress(0.5, 'Shading relief');
  const data = shade(grid);
  onProgress(0.7, 'Drawing contours');
  return {
    number,
    grid,
    relief: {
      image: { width: grid.width, height: grid.height, data },
      corners: gridCorners(grid),
    },
    contours: contourLines(elevation, units),
    contourUnits: units,
    notes,
    heightsIn: elevation.vertical.name,
    reliefM: highestM - lowestM,
  };
}

/** Contours of a window of elevations at round heights in some units. */
export function contourLines(elevation: Elevation, units: UnitSystem): ContourLine[] {
  const { grid, lowestM, highestM } = elevation;
  const frame = makeFrame(grid.frame);
  const intervalM = chooseInterval(highestM - lowestM, units);
  return contours(grid, { intervalM }).map((level) => ({
    ...level,
    lines: level.lines.map((line) => line.map((at) => frame.toLngLat(at))),
  }));
}
