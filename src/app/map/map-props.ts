import type { FeatureCollection, LineString, MultiPolygon, Point, Polygon } from 'geojson';
import type { LngLat } from '../../../lib/frame/frame';
import type { Kind } from '../../../lib/plan/schema';
import type { PlacedOutline } from './hands/placed-outline';

/** Which paper the sheet is drawn on. */
export type Theme = 'paper' | 'dark';

/** The unit system of what the sheet writes by itself: scale bar, contours, spot heights, drawn lengths. */
export type UnitSystem = 'us' | 'metric';

/** How a rule or a place stands: meets, fails, or a person must check. */
export type Result = 'pass' | 'fail' | 'check';

/** RGBA pixels, rows from the north, not premultiplied. */
export interface RasterImage {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray<ArrayBuffer>;
}

/** Corners of an image on the ground: north-west, north-east, south-east, south-west. */
export type Corners = readonly [LngLat, LngLat, LngLat, LngLat];

/** An image laid on the ground. */
export interface SheetImage {
  readonly image: RasterImage;
  readonly corners: Corners;
}

/** All lines of one height. */
export interface ContourLine {
  readonly elevationM: number;
  /** Whether it is drawn heavier and carries its height. */
  readonly index: boolean;
  readonly lines: readonly (readonly LngLat[])[];
  /** Written instead of the rounded height, for example '332' feet. */
  readonly label?: string;
}

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
  { id: string; label: string; result?: Result }
>;

/** Keep-clear zones; zones of one `rule` share an angle of hatching and a letter. */
export type KeepClear = FeatureCollection<Polygon | MultiPolygon, { rule: string; letter: string }>;

/** Ground to be dug, and the zones along lines in which only hand tools are used. */
export type DigZones = FeatureCollection<
  MultiPolygon,
  | { role: 'dig' }
  /** `located`: a locate of the line is current; else it may lie elsewhere. */
  | { role: 'hand-dig'; located: boolean }
>;

/** One measured distance, between the nearest points of the basin and of what it must keep clear of. */
export interface Margin {
  readonly id: string;
  readonly from: LngLat;
  readonly to: LngLat;
  /** With its unit, rounded, for example '5.7 m'. */
  readonly measured: string;
  /** For example 'needs 3.05 m'. */
  readonly required?: string;
  readonly result: Result;
}

/** Water that one lot sends another, drawn across the line between them. */
export interface ExchangeArrow {
  readonly id: string;
  readonly from: LngLat;
  readonly to: LngLat;
  /** The volume with its unit, rounded. */
  readonly text: string;
  /** Whether another arrow runs the other way over the same line. */
  readonly isMet: boolean;
}

/** A candidate site. */
export interface Site {
  readonly rank: number;
  readonly ring: readonly LngLat[];
  readonly at: LngLat;
  readonly result?: Result;
  /** Written in its badge instead of the rank, with words for those who do not see it. */
  readonly label?: { readonly text: string; readonly words: string };
  /** Ways by which roofs' water is led to it. */
  readonly leads?: readonly (readonly LngLat[])[];
}

/** Map tiles under the drawing; off unless the user names them. */
export interface Backdrop {
  /** Address with `{z}`, `{x}` and `{y}`. */
  readonly template: string;
  readonly attribution: string;
  readonly tileSizePx?: number;
  readonly maxZoom?: number;
}

/** Anything that can be pointed at, on the map or from beside it. A site's id is its rank. */
export interface Target {
  readonly kind: 'feature' | 'low-spot' | 'site' | 'keep-clear' | 'margin';
  readonly id: string;
}

/** What the pointer does on the map. */
export type Tool = 'none' | 'edit' | 'probe' | Drawing;

/** A feature of a kind is being drawn: corner by corner, or as a whole of a given outline. */
export interface Drawing {
  readonly draw: Kind;
  readonly outline?: PlacedOutline;
  /** Corners that it has when it is taken up again. */
  readonly corners?: readonly LngLat[];
}

/** A geometry that a plan's feature may have. */
export type PlanGeometry = Polygon | LineString | Point;

/** Which part of a feature moves: its geometry, or the place or line that one of its properties names. */
export type Part = 'geometry' | 'outlet' | 'overflow' | 'ridge';

/** What a gesture has made so far. */
export interface Draft {
  /** `null` for a feature that is being drawn and has no id yet. */
  readonly id: string | null;
  readonly part: Part;
  /** A line for a ridge, a point for an outlet or overflow. */
  readonly geometry: PlanGeometry;
}

/** West, south, east, north in degrees. */
export type Bounds = readonly [west: number, south: number, east: number, north: number];

/** Room to leave around the lot, pixels. */
export interface Padding {
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly left: number;
}
