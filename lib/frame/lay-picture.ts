import { InputError } from '../errors';
import type { XY } from './frame';

/** A point of a picture, and where it belongs. */
export interface ControlPoint {
  /** Columns and rows from the upper left corner of the picture, pixels; may be parts of one. */
  readonly pixel: XY;
  /** East and north in the local frame, metres. */
  readonly at: XY;
}

/** How a picture lies on the ground: `x = east + eastByColumn * column + eastByRow * row`, and likewise north. */
export interface LaidPicture {
  readonly east: number;
  readonly north: number;
  readonly eastByColumn: number;
  readonly eastByRow: number;
  readonly northByColumn: number;
  readonly northByRow: number;
}

/** A fit, and how far it misses. */
export interface PictureFit {
  readonly laid: LaidPicture;
  /** By how much each point misses its place, metres. */
  readonly missesM: readonly number[];
  /** Root of their mean square, metres; null where the points are just enough and none is left to check by. */
  readonly rmsM: number | null;
}

/** Whether a picture keeps its angles when it is laid, or may be drawn out of square as old prints and photographs are. */
export type PictureForm = 'square' | 'skewed';

/** The fewest points that lay a picture. */
export const fewestPoints: Readonly<Record<PictureForm, number>> = { square: 2, skewed: 3 };

/**
 * Lays a picture by points of it whose places are known, by least squares: turned, scaled and moved, or skewed as well.
 *
 * @throws {InputError} `picture-points` where there are too few of them, or they lie in one place (skewed: on one line).
 */
export function layPicture(points: readonly ControlPoint[], form: PictureForm): PictureFit {
  if (points.length < fewestPoints[form]) {
    throw badPoints(
      `${points.length} ${points.length === 1 ? 'point is' : 'points are'} too few to lay it by`,
      `give ${fewestPoints[form]} or more`,
    );
  }
  const from = mean(points.map(({ pixel }) => pixel));
  const to = mean(points.map(({ at }) => at));
  const turn = form === 'square' ? similarity(points, from, to) : affine(points, from, to);
  const [eastByColumn, eastByRow, northByColumn, northByRow] = turn;
  const laid: LaidPicture = {
    east: to[0] - eastByColumn * from[0] - eastByRow * from[1],
    north: to[1] - northByColumn * from[0] - northByRow * from[1],
    eastByColumn,
    eastByRow,
    northByColumn,
    northByRow,
  };
  const missesM = points.map(({ pixel, at }) => {
    const [x, y] = placeOf(laid, pixel);
    return Math.hypot(x - at[0], y - at[1]);
  });
  const isChecked = points.length > fewestPoints[form];
  const squares = missesM.reduce((sum, miss) => sum + miss * miss, 0);
  return { laid, missesM, rmsM: isChecked ? Math.sqrt(squares / points.length) : null };
}

/** Where a pixel lies. */
export function placeOf(laid: LaidPicture, [column, row]: XY): XY {
  return [
    laid.east + laid.eastByColumn * column + laid.eastByRow * row,
    laid.north + laid.northByColumn * column + laid.northByRow * row,
  ];
}

/** The pixel that lies at a place. */
export function pixelAt(laid: LaidPicture, [x, y]: XY): XY {
  const { eastByColumn, eastByRow, northByColumn, northByRow } = laid;
  const area = eastByColumn * northByRow - eastByRow * northByColumn;
  const [dx, dy] = [x - laid.east, y - laid.north];
  return [
    (dx * northByRow - dy * eastByRow) / area,
    (dy * eastByColumn - dx * northByColumn) / area,
  ];
}

type Turn = readonly [
  eastByColumn: number,
  eastByRow: number,
  northByColumn: number,
  northByRow: number,
];

/** Points that lie closer than this, on the picture or on the ground, are one. */
const leastSpreadPx2 = 1;
const leastMetresPerPx = 1e-6;

/** Rows run down where north runs up: a picture is turned over once, and then turned and scaled. */
function similarity(points: readonly ControlPoint[], from: XY, to: XY): Turn {
  let [along, across, size] = [0, 0, 0];
  for (const { pixel, at } of points) {
    const [u, v] = [pixel[0] - from[0], from[1] - pixel[1]];
    const [x, y] = [at[0] - to[0], at[1] - to[1]];
    along += u * x + v * y;
    across += u * y - v * x;
    size += u * u + v * v;
  }
  const metresPerPx = Math.hypot(along, across) / size;
  if (!(size >= leastSpreadPx2) || !(metresPerPx > leastMetresPerPx)) {
    throw badPoints('its points lie in one place', 'give points that lie far apart');
  }
  const [a, b] = [along / size, across / size];
  return [a, b, b, -a];
}

/** Part of the spread of points across the line they lie near, of that along it, below which they count as on one line. */
const onOneLine = 1e-6;

function affine(points: readonly ControlPoint[], from: XY, to: XY): Turn {
  let [uu, uv, vv, ux, vx, uy, vy] = [0, 0, 0, 0, 0, 0, 0];
  for (const { pixel, at } of points) {
    const [u, v] = [pixel[0] - from[0], pixel[1] - from[1]];
    const [x, y] = [at[0] - to[0], at[1] - to[1]];
    uu += u * u;
    uv += u * v;
    vv += v * v;
    ux += u * x;
    vx += v * x;
    uy += u * y;
    vy += v * y;
  }
  const area = uu * vv - uv * uv;
  if (!(area > onOneLine * (uu + vv) ** 2)) {
    throw badPoints('its points lie on one line', 'give one well off that line');
  }
  return [
    (ux * vv - vx * uv) / area,
    (vx * uu - ux * uv) / area,
    (uy * vv - vy * uv) / area,
    (vy * uu - uy * uv) / area,
  ];
}

function mean(places: readonly XY[]): XY {
  const [x, y] = places.reduce(([sx, sy], [px, py]) => [sx + px, sy + py], [0, 0]);
  return [x / places.length, y / places.length];
}

function badPoints(problem: string, remedy: string): InputError {
  return new InputError({ code: 'picture-points', where: 'the picture', problem, remedy });
}
