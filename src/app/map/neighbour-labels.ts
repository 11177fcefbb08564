import type { LngLat } from '../../../lib/frame/frame';
import { featuresOf, type Plan } from '../../../lib/plan/schema';
import { labelPoint, signedArea } from './inset-ring';
import type { ScreenXY } from './snap';

/** The name of a neighbouring lot where it stands on the screen. */
export interface NeighbourLabel {
  readonly id: string;
  readonly at: ScreenXY;
  readonly text: string;
}

/** Width of one letter of a name with the space after it, pixels. */
const letterPx = 10.5;
/** Room that a name needs above and below, pixels. */
const roomPx = 26;

/**
 * Names of the neighbouring lots, each in the middle of what is seen of its lot, so that a lot half outside
 * the sheet is named all the same. Lots of which only a sliver is seen stay unnamed.
 */
export function neighbourLabels(
  plan: Plan,
  toScreen: (place: LngLat) => ScreenXY,
  widthPx: number,
  heightPx: number,
): NeighbourLabel[] {
  return featuresOf(plan, 'lot').flatMap((lot) => {
    if (lot.properties.own) return [];
    const seen = clipToBox(lot.geometry.coordinates[0].map(toScreen), widthPx, heightPx);
    const text = (lot.properties.name ?? 'neighbour').toUpperCase();
    const half = (text.length * letterPx) / 2;
    if (seen.length < 4 || Math.abs(signedArea(seen)) / 2 < 4 * half * roomPx) return [];
    const [x, y] = labelPoint(seen);
    const inset = half + roomPx / 2;
    if (inset > widthPx - inset) return [];
    return [{ id: lot.id, at: [Math.min(widthPx - inset, Math.max(inset, x)), y], text }];
  });
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
