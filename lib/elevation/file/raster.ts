import type { GeoTIFFImage } from 'geotiff';
import proj4 from 'proj4';
import type { LngLat, XY } from '../../frame/frame';
import { groundOffset } from '../../frame/ground-offset';
import type { CachedBytes } from '../bytes/byte-source';
import type { CoordinateSystem } from '../system/coordinate-system';
import { type Georeference, toMap, toPixel } from '../system/georeference';
import type { TiffLayout } from './tiff-layout';

/** An open raster: everything needed to read cells from it. Not plain data; stays where it was opened. */
export interface Raster {
  readonly name: string;
  readonly bytes: CachedBytes;
  readonly image: GeoTIFFImage;
  readonly layout: TiffLayout;
  /** A mask kept beside the heights in the same file: zero means no data. */
  readonly mask: { readonly image: GeoTIFFImage; readonly layout: MaskLayout } | null;
  /** Where the cells lie, in the units that the definition of `system` takes. */
  readonly place: Georeference;
  readonly system: CoordinateSystem;
  readonly nodata: number | null;
  /** Height = cell value times `scale` plus `offset`, in vertical units. */
  readonly scale: number;
  readonly offset: number;
  readonly mapping: Mapping;
  /** The files that its cells are read from, and where the first cell of each lies in it; left out where that is one file. */
  readonly parts?: readonly {
    readonly raster: Raster;
    readonly column: number;
    readonly row: number;
  }[];
}

export type MaskLayout = Omit<TiffLayout, 'sample'>;

/** Between the globe and a raster's columns and rows, counted from its outer corner. */
export interface Mapping {
  toPixel(place: LngLat): XY;
  toLngLat(pixel: XY): LngLat;
}

/** Makes the converter between the globe and a raster's cells. */
export function makeMapping(place: Georeference, system: CoordinateSystem, width: number): Mapping {
  const transform = proj4('WGS84', system.definition);
  const degrees = system.kind === 'degrees';
  // Some global rasters count longitudes from 0 to 360.
  const middleEast = toMap(place, width / 2, 0)[0];
  return {
    toPixel([lng, lat]) {
      const [east, north] = transform.forward<[number, number]>([lng, lat]);
      const near = degrees ? east + 360 * Math.round((middleEast - east) / 360) : east;
      return toPixel(place, near, north);
    },
    toLngLat([column, row]) {
      const [lng, lat] = transform.inverse<[number, number]>(
        toMap(place, column, row) as [number, number],
      );
      return [lng - 360 * Math.round(lng / 360), lat];
    },
  };
}

/** True ground metres of a cell along its row and along its column, at a place in the raster. */
export function groundCellM(mapping: Mapping, column: number, row: number): XY {
  // Over several cells, so that rounding of small differences does not show.
  const span = 8;
  const here = mapping.toLngLat([column, row]);
  const [ax, ay] = groundOffset(here, mapping.toLngLat([column + span, row]));
  const [bx, by] = groundOffset(here, mapping.toLngLat([column, row + span]));
  return [Math.hypot(ax, ay) / span, Math.hypot(bx, by) / span];
}
