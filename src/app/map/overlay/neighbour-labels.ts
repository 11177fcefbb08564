import type { LngLat } from '../../../../lib/frame/frame';
import { featuresOf, type Plan } from '../../../../lib/plan/schema';
import { boundsOf, contains, type Bounds } from '../../../../lib/frame/shapes';
import { distanceToRing } from '../../../../lib/frame/distance-to-ring';
import type { ScreenXY } from '../layers/screen-xy';

/** The name of a neighbouring lot where it stands on the screen. */
export interface NeighbourLabel {
  readonly id: string;
  readonly at: ScreenXY;
  readonly text: string;
}

/** A closed line on the screen that no name may come near, and its box. */
interface Blocked {
  readonly line: readonly ScreenXY[];
  readonly box: Bounds;
}

/** Width of one letter of a name with the space after it, pixels. */
const letterPx = 10.5;
/** Room that a name needs around it, pixels. */
const roomPx = 12;

/**
 * Names of the neighbouring lots, each where there is most room for it in what is seen of its lot and clear
 * of buildings and of the sheet's furniture, so that a lot half outside the sheet is named all the same. Lots that show no room for
 * their names stay unnamed.
 */
export function neighbourLabels(
  plan: Plan,
  toScreen: (place: LngLat) => ScreenXY,
  widthPx: number,
  heightPx: number,
  furniture: readonly (readonly ScreenXY[])[] = [],
): NeighbourLabel[] {
  const blocked = [
    ...furniture,
    ...featuresOf(plan, 'building').map(({ geometry }) => geometry.coordinates[0].map(toScreen)),
  ].map((line) => ({ line, box: boundsOf(line) }));
  return featuresOf(plan, 'lot').flatMap((lot) => {
    if (lot.properties.own) return [];
    const seen = clipToBox(lot.geometry.coordinates[0].map(toScreen), widthPx, heightPx);
    const text = (lot.properties.name ?? 'neighbour').toUpperCase();
    const at = roomiest(seen, blocked, (text.length * letterPx) / 2);
    return at === null ? [] : [{ id: lot.id, at, text }];
  });
}

/** Of a coarse grid of places in a ring, the one with most room for a level name; `null` when none has enough. */
function roomiest(
  ring: readonly ScreenXY[],
  blocked: readonly Blocked[],
  halfPx: number,
): ScreenXY | null {
  const { west, south, east, north } = boundsOf(ring);
  const parts = 14;
  let best: ScreenXY | null = null;
  let bestPx = roomPx;
  for (let row = 1; row < parts; row++) {
    for (let column = 1; column < parts; column++) {
      const x = west + ((east - west) * column) / parts;
      const y = south + ((north - south) * row) / parts;
      let room = Infinity;
      for (const along of [0, -1, 1, -0.5, 0.5]) {
        room = Math.min(room, roomAt([x + along * halfPx, y], ring, blocked, bestPx));
        if (room <= bestPx) break;
      }
      if (room > bestPx) {
        bestPx = room;
        best = [x, y];
      }
    }
  }
  return best;
}

/** Room around a place in a ring and clear of what is blocked; 0 where it is no more than `least`. */
function roomAt(
  point: ScreenXY,
  ring: readonly ScreenXY[],
  blocked: readonly Blocked[],
  least: number,
): number {
  if (!contains([ring], point)) return 0;
  let room = distanceToRing(ring, point);
  for (const { line, box } of blocked) {
    if (room <= least) return 0;
    const [x, y] = point;
    // What lies further off than the room there is takes nothing of it.
    const offX = Math.max(box.west - x, x - box.east, 0);
    const offY = Math.max(box.south - y, y - box.north, 0);
    if (Math.hypot(offX, offY) >= room) continue;
    if (contains([line], point)) return 0;
    room = Math.min(room, distanceToRing(line, point));
  }
  return room;
}

/** The part of a closed ring inside the box from 0, 0, closed; empty when there is none (Sutherland, Hodgman). */
export function clipToBox(
  ring: readonly ScreenXY[],
  widthPx: number,
  heightPx: number,
): ScreenXY[] {
  let points: ScreenXY[] = ring.slice(0, -1);
  const sides: readonly [axis: 0 | 1, limit: number, keep: 1 | -1][] = [
    [0, 0, 1],
    [0, widthPx, -1],
    [1, 0, 1],
    [1, heightPx, -1],
  ];
  for (const [axis, limit, keep] of sides) {
    const clipped: ScreenXY[] = [];
    for (let i = 0; i < points.length; i++) {
      const from = points[i];
      const to = points[(i + 1) % points.length];
      const fromIn = (from[axis] - limit) * keep >= 0;
      const toIn = (to[axis] - limit) * keep >= 0;
      if (fromIn) clipped.push(from);
      if (fromIn !== toIn) {
        const t = (limit - from[axis]) / (to[axis] - from[axis]);
        clipped.push([from[0] + (to[0] - from[0]) * t, from[1] + (to[1] - from[1]) * t]);
      }
    }
    points = clipped;
  }
  return points.length < 3 ? [] : [...points, points[0]];
}
