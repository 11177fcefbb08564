import type { FeatureCollection, LineString, MultiPolygon, Point, Polygon } from 'geojson';
import type { LngLat } from '../../../../lib/frame/frame';
import type { Verdict } from '../../../../lib/verdict';

/** Flow paths, each running down the fall: over the ground with what drains through, or through the drain of an id. */
export type FlowLines = FeatureCollection<LineString, { area_m2: number } | { pipe: string }>;

/** A stretch of the way of water, over the ground or through a drain. */
export interface WayLeg {
  readonly by: 'ground' | 'pipe';
  readonly points: readonly LngLat[];
}

/** What one point on the ground answers: where its water goes, and what drains to it. */
export interface Probe {
  readonly at: LngLat;
  /** From the point down the fall. */
  readonly path: readonly LngLat[];
  /** Drawn in place of the path where water takes drains: stretches over the ground and through pipes. */
  readonly legs?: readonly WayLeg[];
  readonly area: Polygon | MultiPolygon | null;
  /** Low spots that the path fills on its way. */
  readonly ponds?: FeatureCollection<Polygon | MultiPolygon>;
}

/** Areas, and points for what is written beside them. */
export type LowSpots = FeatureCollection<
  Polygon | MultiPolygon | Point,
  { id: string; label: string; faint?: boolean; result?: Verdict }
>;
