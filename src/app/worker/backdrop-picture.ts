import { openElevation } from '../../../lib/elevation/file/open-elevation';
import { gridCorners } from '../../../lib/elevation/grid-corners';
import { readPhoto } from '../../../lib/elevation/picture/read-photo';
import { shade } from '../../../lib/elevation/picture/shade';
import { readWindow } from '../../../lib/elevation/window/read-window';
import { planArea, planOutline, type LngLatBox } from '../../../lib/plan/plan-area';
import type { Plan } from '../../../lib/plan/schema';
import type { BackdropPicture } from './analysis-api';

/** How far around the lot a backdrop reaches, metres; its longest side in pixels; the cells of a relief. Our choices. */
const aroundM = 100;
const mostPx = 2048;
const mostCells = 4_000_000;

/**
 * Reads a file to be laid under the drawing, around the plan's lot, or as a whole where nothing is drawn: a photograph, or the
 * shaded relief of a raster of heights.
 *
 * @throws {InputError} what `readPhoto`, `openElevation` and `readWindow` throw. @throws {Cancelled}
 */
export async function backdropPicture(
  source: { readonly name: string; readonly blob: Blob },
  plan: Plan,
  signal: AbortSignal,
): Promise<BackdropPicture> {
  const area = planArea(plan);
  const photo = await readPhoto(source, area === null ? null : widened(area), mostPx, signal);
  if (photo !== null) {
    const { width, height, data, corners, systemName } = photo;
    return { kind: 'photo', laid: { image: { width, height, data }, corners }, systemName };
  }
  const file = await openElevation(source, { signal });
  const outline = planOutline(plan);
  const { grid, systemName } = await readWindow(file, {
    ...(outline === null ? {} : { area: outline, marginM: aroundM }),
    maxCells: mostCells,
    // A shade tells forms, not heights: what one unit comes to does not matter.
    ...(file.description.needs.length === 0 ? {} : { verticalUnitM: 1 }),
    signal,
  });
  const image = { width: grid.width, height: grid.height, data: shade(grid) };
  return { kind: 'surface', laid: { image, corners: gridCorners(grid) }, systemName };
}

function widened([west, south, east, north]: LngLatBox): LngLatBox {
  const perDegreeM = 111_320;
  const dLat = aroundM / perDegreeM;
  const dLng = dLat / Math.cos((((south + north) / 2) * Math.PI) / 180);
  return [west - dLng, south - dLat, east + dLng, north + dLat];
}
