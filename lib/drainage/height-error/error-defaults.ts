import { expectOf } from '../../errors';
import { ourChoice, type Source } from '../../source';
import { correlation, type ErrorModel } from './error-field';

/** A kind of elevation data with the vertical error that is usual for it. */
export interface ElevationKind {
  readonly name: string;
  /** Vertical root mean square error, metres. */
  readonly rmseM: number;
  readonly source: Source;
  /** Whether it was measured by lidar, densely enough for the ranges below. */
  readonly lidar: boolean;
}

const lidarSource: Source = {
  title:
    'Lidar Base Specification, table of vertical accuracy, as quoted by an open lidar textbook',
  publisher: 'United States Geological Survey',
  year: null,
  mark: 'seen in a secondary copy',
};

/** Usual errors by kind of data. The lidar limits are for open ground; under plants the error is larger (0.30 m at the 95th percentile for level 2, seen in a secondary copy). */
export const elevationKinds: readonly ElevationKind[] = [
  { name: 'lidar of quality level 0', rmseM: 0.05, lidar: true },
  { name: 'lidar of quality level 1', rmseM: 0.1, lidar: true },
  { name: 'lidar of quality level 2', rmseM: 0.1, lidar: true },
  { name: 'lidar of quality level 3', rmseM: 0.2, lidar: true },
].map((kind) => ({ ...kind, source: lidarSource }));

/** What is taken for a raster of coarse cells: our choice, no source. */
export const coarseElevation: ElevationKind = {
  name: 'coarse raster',
  rmseM: 1,
  source: ourChoice,
  lidar: false,
};

/** What is taken for fine cells where nothing is stated: lidar of quality level 2. */
export const usualElevation: ElevationKind = elevationKinds[2];
/** Cells wider than this are not taken to be lidar, metres. Our choice, no source. */
const widestLidarCellM = 3;

/**
 * Part of the error that is short-range, and how far both parts reach, metres.
 *
 * Our choice, no source: none was found that gives ranges for lidar. A stated error of 0.10 m makes 0.03 m of short-range
 * error over 5 m: heights half a metre apart then differ by 2 cm from error alone, about the roughness of a lawn in a lidar
 * raster, while a shorter range would put a puddle on every few square metres. For an old coarse raster correlation over
 * as much as 3,210 m was seen; such errors tilt and lift a lot as a whole and hardly move its low spots.
 */
const parts = {
  lidar: { shortShare: 0.3, shortRangeM: 5, longRangeM: 100 },
  coarse: { shortShare: 0.3, shortRangeM: 30, longRangeM: 1000 },
} as const;

/** The ranges between which an answer should be looked at again, for lidar, metres. Our choice, no source. */
export const plausibleRangesM = { short: [1, 5], long: [30, 300] } as const;

/** What is known of an elevation's error; what is not given is taken from the kind of data. */
export interface StatedError {
  readonly rmseM?: number;
  readonly shortM?: number;
  readonly shortRangeM?: number;
  readonly longRangeM?: number;
}

/** The kind of data that cells of a size are taken for where nothing is stated. */
export function usualKind(cellM: number): ElevationKind {
  return cellM > widestLidarCellM ? coarseElevation : usualElevation;
}

/**
 * The two parts of an elevation's error, by what is stated and else by the size of its cells: the one rule for all that
 * asks how far heights can be relied on.
 *
 * @throws {InputError} `elevation-error` when a cell has no size or an error is negative.
 */
export function errorsOf(cellM: number, stated: StatedError = {}): ErrorModel {
  const kind = usualKind(cellM);
  const part = kind.lidar ? parts.lidar : parts.coarse;
  const rmseM = stated.rmseM ?? kind.rmseM;
  const shortM = Math.min(rmseM, stated.shortM ?? part.shortShare * rmseM);
  const shortRangeM = stated.shortRangeM ?? part.shortRangeM;
  const longRangeM = stated.longRangeM ?? part.longRangeM;
  expectOf(cellM > 0 && shortM >= 0 && shortRangeM >= 0 && longRangeM >= 0, {
    code: 'elevation-error',
    where: 'elevation',
    problem: `cells of ${cellM} m with an error of ${rmseM} m are no elevation`,
    remedy: 'give a size of cells above 0, and errors and ranges that are not negative',
  });
  return { shortM, shortRangeM, longM: Math.sqrt(rmseM * rmseM - shortM * shortM), longRangeM };
}

/**
 * A low spot shallower than so many standard deviations is doubtful. A choice: on the demo lot, with errors of 3 to 15 cm, low spots
 * of 2 to 2.5 standard deviations are found on about two in three equally likely surfaces, where 'likely' begins, and such of 3 on
 * four in five.
 */
const doubtfulBelow = 2.5;

/**
 * Depth below which a low spot is doubtful, metres: 2.5 times the standard deviation of the error in the difference between
 * the heights of its pit and of the pass that it spills over, by the same error that trying equally likely surfaces adds.
 *
 * A quick screen, since it takes pit and pass to stay where they are and looks at no other way out.
 *
 * @param eastM, northM - how far apart pit and pass lie.
 */
export function doubtfulBelowM(errors: ErrorModel, eastM: number, northM: number): number {
  const { shortM, shortRangeM, longM, longRangeM } = errors;
  const short = shortM * shortM * (1 - correlation(shortRangeM, eastM, northM));
  const long = longM * longM * (1 - correlation(longRangeM, eastM, northM));
  return doubtfulBelow * Math.sqrt(2 * (short + long));
}
