import proj4 from 'proj4';
import { InputError } from '../errors';

/** Longitude and latitude, degrees, WGS 84. */
export type LngLat = readonly [lng: number, lat: number];

/** East and north in the lot's local metric frame, true ground metres. */
export type XY = readonly [x: number, y: number];

/**
 * The lot's local metric frame, as plain data: a map projection that is a similarity around the lot, with
 * its scale taken out, so that a metre in the frame is a metre on the ground.
 *
 * When an elevation raster is north-up in a projection without local distortion, the frame is that
 * projection (so its cells can be used as they are); else, and with no raster, it is a transverse Mercator
 * projection centred on the lot.
 */
export interface FrameSpec {
  /** Definition that proj4 understands, axes east and north. */
  readonly projection: string;
  /** Projected coordinates of the frame's origin, in the projection's units. */
  readonly originEast: number;
  readonly originNorth: number;
  /** Ground metres for one unit of the projection at the lot (its unit over its point scale). */
  readonly metresPerUnit: number;
}

/** Converts between the globe and one lot's local metric frame. */
export interface Frame {
  readonly spec: FrameSpec;
  readonly toLocal: (point: LngLat) => XY;
  readonly toLngLat: (point: XY) => LngLat;
}

/**
 * Makes the converter that a frame's plain description stands for.
 *
 * @throws {InputError} `frame-projection` when its projection is none.
 */
export function makeFrame(spec: FrameSpec): Frame {
  const transform = transformOf(spec.projection);
  return {
    spec,
    toLocal(point) {
      const [east, north] = transform.forward<[number, number]>([point[0], point[1]]);
      return [
        (east - spec.originEast) * spec.metresPerUnit,
        (north - spec.originNorth) * spec.metresPerUnit,
      ];
    },
    toLngLat(point) {
      return transform.inverse<[number, number]>([
        spec.originEast + point[0] / spec.metresPerUnit,
        spec.originNorth + point[1] / spec.metresPerUnit,
      ]);
    },
  };
}

/** A frame centred on a point, for work without a raster: transverse Mercator on WGS 84, scale 1 there. */
export function localFrame(centre: LngLat): FrameSpec {
  return {
    projection: `+proj=tmerc +lat_0=${centre[1]} +lon_0=${centre[0]} +k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=m +no_defs`,
    originEast: 0,
    originNorth: 0,
    metresPerUnit: 1,
  };
}

function transformOf(projection: string): proj4.Converter {
  try {
    return proj4('WGS84', projection);
  } catch (cause) {
    throw new InputError(
      {
        code: 'frame-projection',
        where: 'frame',
        problem: `'${projection}' is no projection that can be worked with`,
        remedy: 'take the frame of a grid, or localFrame of a place',
      },
      { cause },
    );
  }
}
