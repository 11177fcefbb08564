import type { LngLat } from '../../../../lib/frame/frame';
import type { Plan } from '../../../../lib/plan/schema';
import type { ScreenXY } from '../layers/screen-xy';
import type { DraftMeasures } from '../hands/draft-measures';
import { snap, snapLines, vertexReachPx } from '../hands/snap';

/** The tape as the sheet shows it. */
export interface DrawnTape {
  readonly points: readonly LngLat[];
  readonly isClosed: boolean;
  /** Written at each point: how far along it lies. */
  readonly running: readonly string[];
  readonly measures: DraftMeasures;
  /** Where it would be led on to; null where the pointer is off the map, or the tape is closed. */
  readonly pointer: LngLat | null;
  /** Where its heights are read; null where they are not. */
  readonly readAt: LngLat | null;
}

/** Where a press leads the tape: back to its first point, to a corner or an edge of the plan within reach, or to the place itself. */
export function tapeEnd(
  place: LngLat,
  plan: Plan,
  { points, isClosed }: Pick<DrawnTape, 'points' | 'isClosed'>,
  toScreen: (place: LngLat) => ScreenXY,
): LngLat | 'first' {
  const [x, y] = toScreen(place);
  if (points.length > 2 && !isClosed) {
    const [x0, y0] = toScreen(points[0]);
    if (Math.hypot(x0 - x, y0 - y) <= vertexReachPx) return 'first';
  }
  return caughtAt(place, plan, toScreen);
}

/** The corner or edge of the plan within reach of a place, else the place itself. */
export function caughtAt(place: LngLat, plan: Plan, toScreen: (place: LngLat) => ScreenXY): LngLat {
  return snap(toScreen(place), snapLines(plan, null), toScreen) ?? place;
}
