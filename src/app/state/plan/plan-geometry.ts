import type { LineString, Point, Polygon } from 'geojson';

/** A geometry that a plan's feature may have. */
export type PlanGeometry = Polygon | LineString | Point;
