import { distanceM, nearestOnSegment } from '../frame/shapes';
import type { XY } from '../frame/frame';
import { channelFlowMPerS } from '../storm/travel-time';
import { pipeCapacityM3PerS } from '../ground/pipe-capacity';
import type { Source } from '../source';
import { footM, hourS, inchM, litreM3 } from '../units/units';

/** A level read on a line. */
export interface LevelOnLine {
  readonly name: string;
  /** Metres along the line. */
  readonly at_m: number;
  /** Above the zero of the levels. */
  readonly height_m: number;
  /** How far it may be off. */
  readonly accuracy_m: number;
}

/** The least drain that carries a flow along a line, and whether the line falls enough for it. */
export interface DrainFit {
  readonly fits: boolean;
  /** Fall for one of run that it would have, or would have to have. */
  readonly slope: number;
  /** How deep its bed lies below the ground at the first and the last level. */
  readonly starts_below_m: number;
  readonly ends_below_m: number;
  /** The deepest that it is dug at any level. */
  readonly deepest_m: number;
  /** By how much the lower end would have to lie lower. 0 where it fits. */
  readonly short_by_m: number;
  /** Inner diameter of the least pipe, or depth of the least swale; null where none that is looked at carries the flow. */
  readonly size_m: number | null;
  readonly carries_l_per_s: number | null;
  readonly why: string;
  readonly sources: readonly Source[];
}

/** How the ground falls along a line, as far as its levels say. */
export interface LineFall {
  readonly length_m: number;
  readonly levels: readonly LevelOnLine[];
  /** From the first level to the last; negative where it rises. */
  readonly fall_m: number;
  readonly slope: number;
  /** How far that fall may be off, from the accuracy of both levels. */
  readonly doubt_m: number;
  /** Which end lies lower; none where that is within the doubt. */
  readonly lower_end: 'last' | 'first' | 'none';
  /** The highest that the ground between rises above the straight line from end to end; 0 with two levels. */
  readonly hump_m: number;
  readonly pipe: DrainFit;
  readonly swale: DrainFit;
}

const chicago: Source = {
  title: 'Municipal code 18-29-704.1 and 1106.3: 1/8 in a foot for drains of 3 to 6 in',
  publisher: 'City of Chicago',
  year: null,
  mark: 'seen',
};
const cover: Source = {
  title: 'Buried downspout: at least 12 in of cover',
  publisher: 'a homeowner’s page on drains',
  year: null,
  mark: 'seen in a secondary copy',
};
const elwood: Source = {
  title: 'Ordinance 808: lot swales fall 1 to 7 %',
  publisher: 'Village of Elwood, Illinois',
  year: 2006,
  mark: 'seen',
};
const edmonton: Source = {
  title: 'Drainage swales, residential: at least 10 cm deep, 15 cm wide',
  publisher: 'City of Edmonton, Alberta',
  year: null,
  mark: 'seen',
};
/** Manning's n of grass in a channel, the middle of 0.03 to 0.06 rounded up. */
const grass: Source = {
  title: 'Swale parameters: n of mown grass 0.03 to 0.06, here 0.05',
  publisher: 'Toronto-area conservation authorities',
  year: null,
  mark: 'seen',
};

/** The fall that drains have at least. */
export const leastPipeFall = 1 / 96;
export const leastSwaleFall = 0.01;
export const pipeCoverM = footM;
const swaleStartM = 0.1;
const swaleBedM = 0.6;
const swaleSide = 3;
const grassRoughness = 0.05;
/** Sizes that are looked at: 3, 4, 6, 8, 10 and 12 in of pipe, and swales from 10 cm by 5. Common practice, no source. */
const pipeSizesM = [3, 4, 6, 8, 10, 12].map((inches) => inches * inchM);
const swaleDepthsM = [0.1, 0.15, 0.2, 0.25, 0.3];

/** The greatest that a drain on a lot is asked to carry: rain on an area at an intensity. */
export function flowOf(areaM2: number, mmPerH: number): number {
  return (areaM2 * mmPerH) / 1000 / hourS;
}

/**
 * How a line falls, from two or more levels on it, and the least pipe and swale that lead a flow from its first level to
 * its last.
 *
 * @param levels - along the line; at least two, no two at one place.
 * @param flowM3PerS - what is to be carried; 0 asks for the fall alone.
 */
export function lineFall(
  lengthM: number,
  levels: readonly LevelOnLine[],
  flowM3PerS: number,
): LineFall {
  const sorted = levels.toSorted((a, b) => a.at_m - b.at_m);
  const first = sorted[0];
  const last = sorted[sorted.length - 1];
  const runM = last.at_m - first.at_m;
  const fallM = first.height_m - last.height_m;
  const doubtM = Math.hypot(first.accuracy_m, last.accuracy_m);
  const hump = sorted.map(
    ({ at_m, height_m }) => height_m - first.height_m + (fallM * (at_m - first.at_m)) / runM,
  );
  return {
    length_m: lengthM,
    levels: sorted,
    fall_m: fallM,
    slope: fallM / runM,
    doubt_m: doubtM,
    lower_end: Math.abs(fallM) <= doubtM ? 'none' : fallM > 0 ? 'last' : 'first',
    hump_m: Math.max(0, ...hump),
    pipe: pipeFit(sorted, runM, fallM, flowM3PerS),
    swale: swaleFit(sorted, runM, fallM, flowM3PerS),
  };
}

/** A bed at an even fall from so far below the ground at the first level: how deep it lies at each. */
function depthsBelow(levels: readonly LevelOnLine[], startM: number, slope: number): number[] {
  const [first] = levels;
  const bedM = first.height_m - startM;
  return levels.map(({ at_m, height_m }) => height_m - (bedM - slope * (at_m - first.at_m)));
}

function pipeFit(
  levels: readonly LevelOnLine[],
  runM: number,
  fallM: number,
  flowM3PerS: number,
): DrainFit {
  // The steeper it falls the less pipe does: what the ground gives, where it gives more than the least.
  const slopeFor = (sizeM: number): number =>
    Math.max(leastPipeFall, (fallM - pipeCoverM - sizeM) / runM);
  const sizeM = pipeSizesM.find((each) => pipeCapacityM3PerS(each, slopeFor(each)) >= flowM3PerS);
  const taken = sizeM ?? pipeSizesM[pipeSizesM.length - 1];
  const startM = pipeCoverM + taken;
  const slope = slopeFor(taken);
  const depths = depthsBelow(levels, startM, slope);
  const endM = depths[depths.length - 1];
  const shortM = Math.max(0, endM);
  const isShort = shortM > tinyM;
  const coverM = Math.min(...depths.slice(0, -1)) - taken;
  const thin =
    coverM < pipeCoverM - tinyM
      ? ` Between, its cover shrinks to ${(100 * coverM).toFixed(0)} cm.`
      : '';
  return {
    fits: !isShort && sizeM !== undefined,
    slope,
    starts_below_m: startM,
    ends_below_m: endM,
    deepest_m: Math.max(...depths),
    short_by_m: isShort ? shortM : 0,
    size_m: sizeM ?? null,
    carries_l_per_s: sizeM === undefined ? null : pipeCapacityM3PerS(sizeM, slope) / litreM3,
    why:
      (isShort
        ? 'It cannot come to daylight at the last level: with its cover at the start and the least fall its end still lies below the ground there. A lower end, less cover, a soakaway or a pump would do.'
        : sizeM === undefined
          ? 'It comes to daylight, but no pipe up to 12 in carries the flow.'
          : 'It comes to daylight at the last level.') + thin,
    sources: [chicago, cover],
  };
}

function swaleFit(
  levels: readonly LevelOnLine[],
  runM: number,
  fallM: number,
  flowM3PerS: number,
): DrainFit {
  const slope = Math.max(leastSwaleFall, fallM / runM);
  const depthM = swaleDepthsM.find((each) => swaleFlowM3PerS(each, slope) >= flowM3PerS);
  const startM = depthM ?? swaleStartM;
  const depths = depthsBelow(levels, startM, slope);
  const endM = depths[depths.length - 1];
  // Its own depth it may keep to the end; what is more has no way out.
  const shortM = Math.max(0, endM - startM);
  const isShort = shortM > tinyM;
  return {
    fits: !isShort && depthM !== undefined,
    slope,
    starts_below_m: startM,
    ends_below_m: endM,
    deepest_m: Math.max(...depths),
    short_by_m: isShort ? shortM : 0,
    size_m: depthM ?? null,
    carries_l_per_s: depthM === undefined ? null : swaleFlowM3PerS(depthM, slope) / litreM3,
    why: isShort
      ? 'The ground falls less than a swale’s bed has to: its end would lie in a hole.'
      : depthM === undefined
        ? 'It falls enough, but no swale up to 30 cm deep carries the flow.'
        : 'It falls enough along the ground.',
    sources: [elwood, edmonton, grass],
  };
}

/** Less is rounding, metres. */
const tinyM = 0.0005;

/** What a grass swale carries when it runs full: a bed 60 cm wide with sides of 3 to 1. */
function swaleFlowM3PerS(depthM: number, slope: number): number {
  const sectionM2 = depthM * (swaleBedM + swaleSide * depthM);
  const wettedM = swaleBedM + 2 * depthM * Math.hypot(1, swaleSide);
  return sectionM2 * channelFlowMPerS({ sectionM2, wettedM, slope, roughness: grassRoughness });
}

/** Where a place lies along a line, and how far off it. */
export function stationOn(
  line: readonly XY[],
  place: XY,
): { readonly atM: number; readonly offM: number } {
  let best = { atM: 0, offM: Infinity };
  let doneM = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const on = nearestOnSegment(place, a, b);
    const offM = distanceM(place, on);
    if (offM < best.offM) best = { atM: doneM + distanceM(a, on), offM };
    doneM += distanceM(a, b);
  }
  return best;
}
