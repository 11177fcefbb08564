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
