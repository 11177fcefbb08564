/**
 * Curve numbers of the surfaces found on residential lots, average antecedent condition, Ia = 0.2 S.
 *
 * Source: Urban Hydrology for Small Watersheds, Technical Release 55, USDA SCS, 2nd ed., June 1986, tables
 * 2-2a and 2-2c (seen). They describe ground that is not frozen.
 */
import type { FeatureOf } from '../plan/schema';

export type Cover = FeatureOf<'surface'>['properties']['cover'];
export type CoverCondition = NonNullable<FeatureOf<'surface'>['properties']['condition']>;
export type SoilGroup = NonNullable<FeatureOf<'surface'>['properties']['soil_group']>;

type ByGroup = Readonly<Record<SoilGroup, number>>;

const every = (value: number): ByGroup => ({ A: value, B: value, C: value, D: value });
const groups = (a: number, b: number, c: number, d: number): ByGroup => ({
  A: a,
  B: b,
  C: c,
  D: d,
});
const always = (row: ByGroup): Readonly<Record<CoverCondition, ByGroup>> => ({
  poor: row,
  fair: row,
  good: row,
});

/** Roofs: the row 'paved parking lots, roofs, driveways'. */
export const roofCurveNumber = 98;

const table: Readonly<Record<Cover, Readonly<Record<CoverCondition, ByGroup>>>> = {
  // 'Open space (lawns, parks, ...)': under 50 %, 50 to 75 %, over 75 % grass cover.
  lawn: {
    poor: groups(68, 79, 86, 89),
    fair: groups(49, 69, 79, 84),
    good: groups(39, 61, 74, 80),
  },
  // Planting beds have no row of their own; 'brush' is the nearest: shrubs over litter.
  bed: {
    poor: groups(48, 67, 77, 83),
    fair: groups(35, 56, 70, 77),
    good: groups(30, 48, 65, 73),
  },
  woods: {
    poor: groups(45, 66, 77, 83),
    fair: groups(36, 60, 73, 79),
    good: groups(30, 55, 70, 77),
  },
  meadow: always(groups(30, 58, 71, 78)),
  // 'Streets and roads: gravel (including right-of-way)'.
  gravel: always(groups(76, 85, 89, 91)),
  paving: always(every(roofCurveNumber)),
  // A boarded deck lets rain through to the ground below it, commonly bare: 'newly graded areas'.
  deck: always(groups(77, 86, 91, 94)),
  bare: always(groups(77, 86, 91, 94)),
};

/** The curve number of a surface on a hydrologic soil group. */
export function curveNumber(cover: Cover, condition: CoverCondition, group: SoilGroup): number {
  return table[cover][condition][group];
}

/** Whether the curve number of a cover depends on its condition. */
export function hasConditions(cover: Cover): boolean {
  return table[cover].poor !== table[cover].good;
}
