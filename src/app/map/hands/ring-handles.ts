import type { Polygon, Position } from 'geojson';
import type { LngLat } from '../../../../lib/frame/frame';
import type { PlanFeature } from '../../../../lib/plan/schema';
import { geometryOf } from '../layers/plan-drawing';
import type { ScreenXY } from '../layers/screen-xy';

/**
 * A handle on an area with holes, which the drawing tool cannot hold: on a corner of any of its rings, or in the middle
 * of a side, where it puts a corner in.
 */
export interface RingHandle {
  readonly part: 'geometry';
  readonly does: 'move-corner' | 'add-corner';
  readonly ring: number;
  /** The corner, or the one after which a new one comes. */
  readonly corner: number;
  readonly at: ScreenXY;
}

/** The area itself, held at a place within it. */
export interface AreaHandle {
  readonly part: 'geometry';
  readonly does: 'move-area';
  readonly from: LngLat;
}

/** Sides shorter than this on the screen have no handle in their middle: it would lie under those of their ends. */
const leastSidePx = 34;

/** Handles on all rings of the feature in hand, where it is an area. */
export function cornersInHand(
  feature: PlanFeature | null,
  toScreen: (place: LngLat) => ScreenXY,
): RingHandle[] {
  const geometry = feature === null ? null : geometryOf(feature);
  return geometry?.type === 'Polygon' ? ringHandles(geometry, toScreen) : [];
}

/** Handles on all rings of an area with holes; none for one without, which the drawing tool holds. */
export function ringHandles(area: Polygon, toScreen: (place: LngLat) => ScreenXY): RingHandle[] {
  if (area.coordinates.length < 2) return [];
  return area.coordinates.flatMap((line, ring) => {
    const seen = line.map(([lng, lat]) => toScreen([lng, lat]));
    return seen.slice(0, -1).flatMap((at, corner): RingHandle[] => {
      const next = seen[corner + 1];
      const handle: RingHandle = { part: 'geometry', does: 'move-corner', ring, corner, at };
      if (Math.hypot(next[0] - at[0], next[1] - at[1]) < leastSidePx) return [handle];
      const middle: ScreenXY = [(at[0] + next[0]) / 2, (at[1] + next[1]) / 2];
      return [handle, { ...handle, does: 'add-corner', at: middle }];
    });
  });
}

/** The area with a corner of one of its rings dragged to a place, or a new corner put in there. */
export function withCornerAt(area: Polygon, handle: RingHandle, place: LngLat): Polygon {
  return withRing(area, handle.ring, (corners) =>
    handle.does === 'move-corner'
      ? corners.with(handle.corner, [...place])
      : corners.toSpliced(handle.corner + 1, 0, [...place]),
  );
}

/** The area without a corner of one of its rings; null where the ring would have fewer than three left. */
export function withoutCorner(area: Polygon, { ring, corner }: RingHandle): Polygon | null {
  if (area.coordinates[ring].length <= 4) return null;
  return withRing(area, ring, (corners) => corners.toSpliced(corner, 1));
}

/** Changes one ring, given without the corner repeated at its end. */
function withRing(
  area: Polygon,
  ring: number,
  change: (corners: readonly Position[]) => Position[],
): Polygon {
  const corners = change(area.coordinates[ring].slice(0, -1));
  return {
    type: 'Polygon',
    coordinates: area.coordinates.with(ring, [...corners, [...corners[0]]]),
  };
}
