import type { Source } from '../source';
import { footM, inchM } from '../units/units';

/** A published figure that remedies are made by, its words and where they stand. */
export interface PublishedFigure {
  readonly published: string;
  readonly source: Source;
}

const residentialCode = {
  publisher: 'International Code Council, as quoted by a builders’ association and a forum',
  year: null,
  mark: 'seen in a secondary copy',
} as const;

/** Ground falls away from walls: 6 in within 10 ft. */
export const gradeAway = {
  fall: 0.05,
  reachM: 10 * footM,
  published: '6 in (152 mm) within the first 10 ft (3,048 mm): 5 %',
  source: { title: 'International Residential Code, section R401.3', ...residentialCode },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** A swale near a foundation falls by this at least. */
export const swaleNearWall = {
  fall: 0.02,
  withinM: 10 * footM,
  published: 'swales within 10 ft of a foundation fall 2 % at least',
  source: {
    title: 'International Residential Code, section R401.3, and Building Code, 1804.3',
    ...residentialCode,
  },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** A swale on a lot falls by this at least. */
export const lotSwale = {
  fall: 0.01,
  published: 'lot swales 1 to 7 %',
  source: {
    title: 'Ordinance 808 (Elwood, Illinois)',
    publisher: 'Village of Elwood',
    year: 2006,
    mark: 'seen',
  },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** An infill lot's swale is this deep at least. */
export const leastSwale = {
  depthM: 0.1,
  published: 'infill swales at least 10 cm deep and 15 cm wide',
  source: {
    title: 'Drainage swales, residential',
    publisher: 'City of Edmonton',
    year: null,
    mark: 'seen',
  },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** A buried pipe of a roof or yard falls by this at least. */
export const pipeFall = {
  fall: 0.01,
  published: 'pipes of 3 to 6 in at least 1/8 in/ft (1 %)',
  source: {
    title: 'Municipal code 18-29-704.1',
    publisher: 'City of Chicago',
    year: null,
    mark: 'seen',
  },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** Earth over a buried downspout pipe. */
export const pipeCover = {
  coverM: 12 * inchM,
  published: 'at least 12 in of cover over a buried downspout pipe',
  source: {
    title: 'Buried downspouts, a trade page',
    publisher: 'a drainage contractor’s page',
    year: null,
    mark: 'seen in a secondary copy',
  },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** A downspout ends this far from walls, and this far from a neighbour's line. */
export const spoutEnd = {
  fromWallM: 2,
  fromLineM: 0.15,
  published: 'at least 2 m from the house and 0.15 m from the neighbour’s line',
  source: {
    title: 'Surface drainage, discharge points',
    publisher: 'City of Edmonton',
    year: null,
    mark: 'seen',
  },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** A sump empties this far from any line, and this far from the wall. */
export const sumpEnd = {
  fromLineM: 10 * footM,
  fromWallM: 1.5,
  published: 'at least 10 ft from a line, at least 1.5 m from the wall',
  source: {
    title: 'Sump pump discharge (Davenport, Iowa); Lot drainage tips (Strathcona County)',
    publisher: 'City of Davenport; Strathcona County',
    year: null,
    mark: 'seen',
  },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** Earth stays this far below siding. */
export const belowSiding = {
  leastM: 6 * inchM,
  published: 'wood siding less than 6 in above earth needs protection from decay',
  source: { title: 'International Residential Code, section R317.1', ...residentialCode },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** Nobody sends a neighbour more, or otherwise, than comes by nature. */
export const natural = {
  published: 'no discharge of more than, or in a manner other than, the natural flow',
  source: {
    title: 'Drainage questions and answers for owners',
    publisher: 'City of Everett, Washington; City of DeSoto, Texas; Wheat Ridge, Colorado',
    year: null,
    mark: 'seen',
  },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** Water is not led to another watershed or course without leave. */
export const otherCourse = {
  published:
    'no transfer between watersheds without an easement; concentrated discharge only into a watercourse or easement',
  source: {
    title: 'Borough code 29420226',
    publisher: 'a Pennsylvania borough',
    year: null,
    mark: 'seen',
  },
} as const satisfies PublishedFigure & Record<string, unknown>;

/** Water of the ground above is let in. */
export const upperWater = {
  published: 'that flow must not be changed to the detriment of the higher property',
  source: {
    title: 'Drainage questions and answers',
    publisher: 'Township of Millburn, New Jersey',
    year: null,
    mark: 'seen',
  },
} as const satisfies PublishedFigure & Record<string, unknown>;
