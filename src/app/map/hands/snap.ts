import type { LngLat } from '../../../../lib/frame/frame';
import type { Plan } from '../../../../lib/plan/schema';
import type { ScreenXY } from '../layers/screen-xy';

/** How near the pointer must come, pixels. */
export const vertexReachPx = 11;
export const edgeReachPx = 7;

/** Lines that a drawn or dragged corner may snap to: rings are closed, points are lines of one corner. */
export type SnapLine = readonly LngLat[];

/** The lines of a plan that are worth snapping to, without one feature's own. */
export function snapLines(plan: Plan, withoutId: string | null): SnapLine[] {
  const lines: SnapLine[] = [];
  for (const { id, geometry } of plan.features) {
    if (id === withoutId) continue;
    if (geometry.type === 'Point') lines.push([geometry.coordinates]);
    else if (geometry.type === 'LineString') lines.push(geometry.coordinates);
    else lines.push(...geometry.coordinates);
  }
  return lines;
}

/**
 * The place that the pointer snaps to: the nearest corner within reach, else the nearest place on an edge
 * within its shorter reach, else `null`.
 *
 * @param toScreen - where a place lies on the screen
 */
export function snap(
  pointer: ScreenXY,
  lines: readonly SnapLine[],
  toScreen: (place: LngLat) => ScreenXY,
): LngLat | null {
  let vertex: LngLat | null = null;
  let vertexPx = vertexReachPx;
  let edge: LngLat | null = null;
  let edgePx = edgeReachPx;
  for (const line of lines) {
    let before: ScreenXY | null = null;
    for (let i = 0; i < line.length; i++) {
      const place = line[i];
      const here = toScreen(place);
      const distance = Math.hypot(here[0] - pointer[0], here[1] - pointer[1]);
      if (distance <= vertexPx) {
        vertexPx = distance;
        vertex = place;
      }
      if (before !== null) {
        const along = alongSegment(pointer, before, here);
        const x = before[0] + (here[0] - before[0]) * along;
        const y = before[1] + (here[1] - before[1]) * along;
        const off = Math.hypot(x - pointer[0], y - pointer[1]);
        if (off <= edgePx) {
          const from = line[i - 1];
          edgePx = off;
          edge = [from[0] + (place[0] - from[0]) * along, from[1] + (place[1] - from[1]) * along];
        }
      }
      before = here;
    }
  }
  return vertex ?? edge;
}

function alongSegment(point: ScreenXY, from: ScreenXY, to: ScreenXY): number {
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const squared = dx * dx + dy * dy;
  if (squared === 0) return 0;
  return Math.min(
    1,
    Math.max(0, ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / squared),
  );
}
