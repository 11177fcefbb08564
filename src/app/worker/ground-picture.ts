import { chooseInterval, contours } from '../../../lib/elevation/picture/contours';
import { gridCorners } from '../../../lib/elevation/grid-corners';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import { shade } from '../../../lib/elevation/picture/shade';
import type { Progress } from '../../../lib/errors';
import { makeFrame } from '../../../lib/frame/frame';
import type { GroundPicture } from './analysis-api';

/** Draws relief and contours of a window of elevations for the sheet. @param number - of the survey that read it. */
export function groundPicture(
  number: number,
  elevation: Elevation,
  onProgress: Progress,
): GroundPicture {
  const { grid, notes, lowestM, highestM } = elevation;
  onProgress(0.5, 'Shading relief');
  const data = shade(grid);
  onProgress(0.7, 'Drawing contours');
  const contourIntervalM = chooseInterval(highestM - lowestM);
  const frame = makeFrame(grid.frame);
  return {
    number,
    grid,
    relief: {
      image: { width: grid.width, height: grid.height, data },
      corners: gridCorners(grid),
    },
    contours: contours(grid, { intervalM: contourIntervalM }).map((level) => ({
      ...level,
      lines: level.lines.map((line) => line.map((at) => frame.toLngLat(at))),
    })),
    contourIntervalM,
    notes,
    heightsIn: elevation.vertical.name,
    reliefM: highestM - lowestM,
  };
}
