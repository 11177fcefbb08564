import type { LngLat } from '../../../lib/frame/frame';

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
