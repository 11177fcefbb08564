import { localFrame, makeFrame, type LngLat } from '../../../lib/frame/frame';
import type { LngLatBox } from '../../../lib/plan/plan-area';

/** Farther than this from the lot nobody stands who works on it, metres. A choice. */
const farM = 1000;
/** Room around a place that is looked at, metres. A choice. */
const aroundM = 25;

/**
 * What is to be done so that somebody's place is seen on a sheet: nothing, look at other ground, or say how far away it
 * is, metres.
 *
 * @param home - the ground that the sheet shows at first; null for an empty plan.
 */
export function viewOfOwnPlace(at: LngLat, home: LngLatBox | null): null | LngLatBox | number {
  const { toLocal, toLngLat } = makeFrame(localFrame(at));
  const [west, south] = toLngLat([-aroundM, -aroundM]);
  const [east, north] = toLngLat([aroundM, aroundM]);
  const around: LngLatBox = [west, south, east, north];
  if (home === null) return around;
  const [x0, y0] = toLocal([home[0], home[1]]);
  const [x1, y1] = toLocal([home[2], home[3]]);
  const awayM = Math.hypot(Math.max(x0, -x1, 0), Math.max(y0, -y1, 0));
  if (!Number.isFinite(awayM) || awayM > farM) return awayM;
  return awayM === 0 ? null : around;
}
