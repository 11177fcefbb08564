import type { GeoTIFFImage } from 'geotiff';
import { InputError } from '../../errors';
import type { XY } from '../../frame/frame';

/**
 * Where the cells of a raster lie, in units of its coordinate system:
 * `east = originEast + column * eastByColumn + row * eastByRow`, and likewise north, where column 0, row 0
 * is the outer corner of the first cell (so a cell's centre lies at a half).
 */
export interface Georeference {
  readonly originEast: number;
  readonly originNorth: number;
  readonly eastByColumn: number;
  readonly eastByRow: number;
  readonly northByColumn: number;
  readonly northByRow: number;
}

/** Raster type in which a tie point stands for a cell's centre. */
const PIXEL_IS_POINT = 2;

/**
 * Reads where the cells lie, from the tie point and cell size or from the transformation matrix.
 *
 * Coordinates are as written, not yet converted to the units of a projection. A raster whose tie point
 * stands for a cell's centre is shifted by half a cell, so that callers need not know.
 *
 * @throws {InputError} `elevation-no-georeference` when the file does not say where it lies,
 *   `elevation-control-points` when it only gives scattered points.
 */
export async function readGeoreference(
  image: GeoTIFFImage,
  rasterType: unknown,
  name: string,
): Promise<Georeference> {
  const tags = image.fileDirectory;
  const scale = numbers(await tags.loadValue('ModelPixelScale'));
  const ties = numbers(await tags.loadValue('ModelTiepoint'));
  const matrix = numbers(await tags.loadValue('ModelTransformation'));
  let corner: Georeference;
  if (scale.length >= 2 && ties.length >= 6) {
    const [i, j, , east, north] = ties;
    const [dx, dy] = scale;
    corner = {
      originEast: east - i * dx,
      originNorth: north + j * dy,
      eastByColumn: dx,
      eastByRow: 0,
      northByColumn: 0,
      northByRow: -dy,
    };
  } else if (matrix.length >= 8) {
    corner = {
      originEast: matrix[3],
      originNorth: matrix[7],
      eastByColumn: matrix[0],
      eastByRow: matrix[1],
      northByColumn: matrix[4],
      northByRow: matrix[5],
    };
  } else if (ties.length > 6) {
    throw new InputError({
      code: 'elevation-control-points',
      where: name,
      problem: `it is placed by ${ties.length / 6} control points instead of a grid of equal cells`,
      remedy: 'rectify it in a GIS (warp to a projected system) and open the result',
    });
  } else {
    throw noGeoreference(name, 'nothing in it says where on the ground it lies');
  }
  const area = corner.eastByColumn * corner.northByRow - corner.eastByRow * corner.northByColumn;
  if (!Number.isFinite(area + corner.originEast + corner.originNorth) || area === 0) {
    throw noGeoreference(name, 'its cells have no size');
  }
  return rasterType === PIXEL_IS_POINT ? shifted(corner, -0.5) : corner;
}

/** Coordinates of a place given in columns and rows from the outer corner. */
export function toMap(place: Georeference, column: number, row: number): XY {
  return [
    place.originEast + column * place.eastByColumn + row * place.eastByRow,
    place.originNorth + column * place.northByColumn + row * place.northByRow,
  ];
}

/** Columns and rows from the outer corner, of a place given in coordinates. */
export function toPixel(place: Georeference, east: number, north: number): XY {
  const area = place.eastByColumn * place.northByRow - place.eastByRow * place.northByColumn;
  const dx = east - place.originEast;
  const dy = north - place.originNorth;
  return [
    (dx * place.northByRow - dy * place.eastByRow) / area,
    (dy * place.eastByColumn - dx * place.northByColumn) / area,
  ];
}

/** The same placement with all coordinates multiplied: feet to metres, gradians to degrees. */
export function inUnits(place: Georeference, factor: number): Georeference {
  return {
    originEast: place.originEast * factor,
    originNorth: place.originNorth * factor,
    eastByColumn: place.eastByColumn * factor,
    eastByRow: place.eastByRow * factor,
    northByColumn: place.northByColumn * factor,
    northByRow: place.northByRow * factor,
  };
}

function shifted(place: Georeference, cells: number): Georeference {
  const [originEast, originNorth] = toMap(place, cells, cells);
  return { ...place, originEast, originNorth };
}

function noGeoreference(name: string, problem: string): InputError {
  return new InputError({
    code: 'elevation-no-georeference',
    where: name,
    problem,
    remedy:
      'use the GeoTIFF as its publisher hands it out, or write the position and coordinate system into it with a GIS',
  });
}

function numbers(value: unknown): number[] {
  if (!Array.isArray(value) && !ArrayBuffer.isView(value)) return [];
  return Array.from(value as ArrayLike<number>, Number);
}
