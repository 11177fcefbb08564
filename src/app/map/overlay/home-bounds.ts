import type { Grid } from '../../../../lib/elevation/grid';
import { localFrame, makeFrame, type Frame } from '../../../../lib/frame/frame';
import { boundsOf } from '../../../../lib/frame/shapes';
import { planArea, type LngLatBox } from '../../../../lib/plan/plan-area';
import type { Plan } from '../../../../lib/plan/schema';
import type { Corners } from '../../worker/sheet-image';

/** What the sheet shows at first: the planned lot, else every feature, else the data, else nothing. */
export function homeBounds(plan: Plan, data: Corners | null): LngLatBox | null {
  const area = planArea(plan);
  if (area !== null || data === null) return area;
  const { west, south, east, north } = boundsOf(data);
  return [west, south, east, north];
}

/** The frame of the data, else one about the middle of what the sheet shows at first. */
export function homeFrame(grid: Grid | null, home: LngLatBox | null): Frame {
  if (grid !== null) return makeFrame(grid.frame);
  if (home === null) return makeFrame(localFrame([0, 0]));
  return makeFrame(localFrame([(home[0] + home[2]) / 2, (home[1] + home[3]) / 2]));
}
