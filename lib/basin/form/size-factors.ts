import type { BroadTexture } from '../../soil/texture-table';
import type { Source } from '../../source';
import { footM, inchM } from '../../units/units';

/** Soil as the homeowner size factors know it. */
export type SoilTexture = BroadTexture;

/** Which soil the size factors go by. */
export interface SizingSoil {
  readonly texture: SoilTexture;
  /** Whether the plan does not say: the factors then ask for as much as of any soil. */
  readonly assumed: boolean;
}

/** The soil of a plan for the size factors, `null` where nothing is known of it. */
export function sizingSoil(broad: BroadTexture | null): SizingSoil {
  return { texture: broad ?? 'clayey', assumed: broad === null };
}

/** What is to be said where the soil is assumed. */
export const assumedSoilNote =
  'The plan does not give the soil’s texture: the size factors of clayey soil are taken, which ask for most. Feel the soil, and give its texture.';

/** Ponding depth as the size factors know it: 3-5 in, 6-7 in, about 8 in. */
export type DepthClass = 'shallow' | 'middle' | 'deep';

/** A published size factor: square metres of garden for one of drained area. */
export interface SizeFactor {
  readonly soil: SoilTexture;
  /** Depth class for a garden near its downspout; `any` for one farther away. */
  readonly depth: DepthClass | 'any';
  readonly factor: number;
  readonly source: Source;
}

/** Nearer to the downspout than this a garden takes the near factors: 30 ft. */
export const nearDownspoutM = 30 * footM;

/** Ponding depth taken for a depth class, metres: 4, 6 and 8 in, as in the Rhode Island slides' tables. */
export const classDepthM: Readonly<Record<DepthClass, number>> = {
  shallow: 4 * inchM,
  middle: 6 * inchM,
  deep: 8 * inchM,
};

export const homeowners: Source = {
  title: 'Rain Gardens: A how-to manual for homeowners (GWQ037), size factors',
  publisher: 'University of Wisconsin-Extension and Wisconsin DNR',
  year: 2003,
  mark: 'from memory',
};
const rhodeIsland: Source = {
  title: 'Rain Gardens: A Design Guide for Homeowners in Rhode Island',
  publisher:
    'University of Rhode Island Cooperative Extension, adapted from the University of Wisconsin-Extension',
  year: null,
  section: 'step 4',
  mark: 'seen',
};
const rhodeIslandSlides: Source = {
  title: 'Rain garden slides, table for sandy soils',
  publisher: 'Rhode Island and Connecticut extension',
  year: null,
  mark: 'seen in a secondary copy',
};
const illinois: Source = {
  title: 'Rain garden sheet, worked example',
  publisher: 'Illinois Department of Natural Resources',
  year: null,
  mark: 'seen in a secondary copy',
};

/** The homeowner size factors: near the downspout by depth, farther than 30 ft one for every depth. */
export const sizeFactors: readonly SizeFactor[] = [
  { soil: 'sandy', depth: 'shallow', factor: 0.19, source: rhodeIsland },
  { soil: 'sandy', depth: 'middle', factor: 0.15, source: rhodeIsland },
  { soil: 'sandy', depth: 'deep', factor: 0.08, source: rhodeIslandSlides },
  { soil: 'sandy', depth: 'any', factor: 0.03, source: homeowners },
  { soil: 'silty', depth: 'shallow', factor: 0.34, source: rhodeIsland },
  { soil: 'silty', depth: 'middle', factor: 0.25, source: illinois },
  { soil: 'silty', depth: 'deep', factor: 0.16, source: homeowners },
  { soil: 'silty', depth: 'any', factor: 0.06, source: homeowners },
  { soil: 'clayey', depth: 'shallow', factor: 0.43, source: homeowners },
  { soil: 'clayey', depth: 'middle', factor: 0.32, source: homeowners },
  { soil: 'clayey', depth: 'deep', factor: 0.2, source: homeowners },
  { soil: 'clayey', depth: 'any', factor: 0.1, source: homeowners },
];

/** Where the table of depth by slope stands. */
export const slopeTable: Source = { ...rhodeIsland, section: 'depth by slope' };

/** Ground steeper than this has no row in the slope table: another place. */
export const steepestRatio = 0.12;

/**
 * The depth class for the slope of the ground (rise over run): under 4 % shallow, to 7 % middle, to 12 % deep,
 * `null` beyond. The source leaves 4-5 % and 7-8 % open; the deeper row is taken.
 * Source: Rain Gardens: A Design Guide for Homeowners in Rhode Island (seen).
 */
export function depthForSlope(slopeRatio: number): DepthClass | null {
  // A hundredth of a per cent of slack, so that rounding in the heights does not toss a coin at 4 %.
  if (slopeRatio < 0.04 - 1e-4) return 'shallow';
  if (slopeRatio <= 0.07) return 'middle';
  return slopeRatio <= steepestRatio ? 'deep' : null;
}

/** What inches may lose when they are written as whole centimetres: 6 in as 15 cm, 8 in as 20 cm. */
const roundingM = 0.005;

/** The class of a ponding depth in metres. Between two rows the shallower one is taken: it asks for more area. */
export function classOfDepth(pondingDepthM: number): DepthClass {
  const depthM = pondingDepthM + roundingM;
  return depthM < 6 * inchM ? 'shallow' : depthM < 8 * inchM ? 'middle' : 'deep';
}

/** The size factor for a soil, a depth class and a distance from the downspout in metres. */
export function sizeFactor(
  soil: SoilTexture,
  depth: DepthClass,
  fromDownspoutM: number,
): SizeFactor {
  const asked = fromDownspoutM < nearDownspoutM ? depth : 'any';
  const found = sizeFactors.find((row) => row.soil === soil && row.depth === asked);
  if (found === undefined) throw new Error(`Internal error: no size factor for ${soil}, ${asked}`);
  return found;
}

/** One area that drains to a garden. */
export interface Drained {
  readonly areaM2: number;
  /** Distance of the downspout it comes from; `Infinity` for lawn and other ground. */
  readonly fromDownspoutM: number;
}

/** Area of garden by the size factors. */
export interface SizedArea {
  readonly areaM2: number;
  /** Each area's factor, in the order given. */
  readonly factors: readonly SizeFactor[];
}

/**
 * The area of garden for what drains to it: each drained area times its factor.
 *
 * The manuals use one factor for the whole; here roofs near and far, and the ground, each
 * take their own.
 */
export function sizeByFactor(
  soil: SoilTexture,
  depth: DepthClass,
  drained: readonly Drained[],
): SizedArea {
  const factors = drained.map((each) => sizeFactor(soil, depth, each.fromDownspoutM));
  const areaM2 = drained.reduce((sum, each, i) => sum + each.areaM2 * factors[i].factor, 0);
  return { areaM2, factors };
}
