import { sameSpotShare, type CertaintyStudy } from './certainty';
import type { Tallies } from './certainty-tallies';
import { likelihoodWords } from './likelihood-words';

/** How sure one low spot is. Ranges hold nine in ten of the surfaces on which it is there; null when it is on none. */
export interface LowSpotCertainty {
  readonly id: string;
  /** That the ground has it: see `sameSpotShare`. */
  readonly probability: number;
  readonly words: string;
  readonly area_m2_5: number | null;
  readonly area_m2_95: number | null;
  readonly volume_m3_5: number | null;
  readonly volume_m3_95: number | null;
}

/** How sure what comes to one basin is. */
export interface BasinCertainty {
  readonly id: string;
  /** That the storm fills it up to its overflow. */
  readonly probability: number;
  readonly words: string;
  /** What drains to it by single flow: on the ground as read, and in nine of ten surfaces. */
  readonly drains_m2: number;
  readonly drains_m2_5: number;
  readonly drains_m2_95: number;
}

/** How sure water at one building is. */
export interface BuildingCertainty {
  readonly building: string;
  readonly name: string;
  /** That water stands along at least `wetWallFromM` of its wall. */
  readonly probability: number;
  readonly words: string;
  /** Wall with standing water at it, in nine of ten surfaces; that of a low spot too small to be listed does not count. */
  readonly wall_m_5: number;
  readonly wall_m_95: number;
}

/** What repeating the storm over equally likely surfaces says. */
export interface CertaintyResult {
  readonly surfaces: number;
  readonly seed: number;
  /** Whether another fifty surfaces hardly change a probability: see `isSettled`. */
  readonly settled: boolean;
  /** The error that was tried; ranges are where correlation along an axis has fallen to 0.05. */
  readonly errors: {
    readonly rmse_m: number;
    readonly short_m: number;
    readonly short_range_m: number;
    readonly long_m: number;
    readonly long_range_m: number;
  };
  readonly low_spots: readonly LowSpotCertainty[];
  readonly basins: readonly BasinCertainty[];
  readonly buildings: readonly BuildingCertainty[];
  readonly notes: readonly string[];
}

/** Length of wet wall from which water is said to stand at a building, metres: less is a puddle. Our choice, no source. */
export const wetWallFromM = 1;

/** Surfaces run at a time; the rule below is looked at after every two batches. */
export const batchSize = 25;
/** No fewer and no more surfaces than these are run. The standard error of a probability of a half is then 0.07 and 0.025. */
export const fewestSurfaces = 50;
export const mostSurfaces = 400;
/** A probability that the last so many surfaces change by less is settled. Our choice, no source. */
const settledOver = 50;
const settledBelow = 0.02;

/**
 * Whether the last fifty surfaces changed every reported probability (low spots, basins, buildings) by less than 0.02 against what
 * those before said. False while there are none before.
 */
export function isSettled(tallies: Tallies): boolean {
  const rows = tallies.indices.length;
  if (rows <= settledOver) return false;
  const now = probabilities(tallies, rows);
  const before = probabilities(tallies, rows - settledOver);
  return now.every((probability, i) => Math.abs(probability - before[i]) < settledBelow);
}

/** All reported probabilities by the first so many surfaces. */
function probabilities(tallies: Tallies, rows: number): number[] {
  const { spots, basins, buildings } = tallies.of;
  const shares = (list: ArrayLike<number>, columns: number, from: number): number[] =>
    Array.from({ length: columns }, (_, column) => shareFrom(list, columns, column, from, rows));
  return [
    ...shares(tallies.spotIsThere, spots, 1),
    ...shares(tallies.basinIsFull, basins, 1),
    ...shares(tallies.wetWallM, buildings, wetWallFromM),
  ];
}

/** Share of the first rows in which a column is at least `from`. */
function shareFrom(
  list: ArrayLike<number>,
  columns: number,
  column: number,
  from: number,
  rows: number,
): number {
  let count = 0;
  for (let row = 0; row < rows; row++) if (list[row * columns + column] >= from) count++;
  return rows === 0 ? 0 : count / rows;
}

/** The tallies of one study in figures and words, as `lotfall drainage --certainty --json` prints them. */
export function summarise(study: CertaintyStudy, tallies: Tallies): CertaintyResult {
  const { plan, errors, seed, spots, basins, buildings, baseline } = study;
  const rows = tallies.indices.length;
  const { shortM, longM } = errors;
  return {
    surfaces: rows,
    seed,
    settled: isSettled(tallies),
    errors: {
      rmse_m: Math.hypot(shortM, longM),
      short_m: shortM,
      short_range_m: errors.shortRangeM,
      long_m: longM,
      long_range_m: errors.longRangeM,
    },
    low_spots: spots.map(({ id }, i) => {
      const probability = shareFrom(tallies.spotIsThere, spots.length, i, 1, rows);
      const there = (list: Float32Array): number[] =>
        columnOf(list, spots.length, i).filter(
          (_, row) => tallies.spotIsThere[row * spots.length + i] === 1,
        );
      const areas = there(tallies.spotAreaM2);
      const volumes = there(tallies.spotVolumeM3);
      return {
        id,
        probability,
        words: likelihoodWords(probability),
        area_m2_5: percentile(areas, 0.05),
        area_m2_95: percentile(areas, 0.95),
        volume_m3_5: percentile(volumes, 0.05),
        volume_m3_95: percentile(volumes, 0.95),
      };
    }),
    basins: basins.map((id, i) => {
      const probability = shareFrom(tallies.basinIsFull, basins.length, i, 1, rows);
      const areas = columnOf(tallies.basinAreaM2, basins.length, i);
      return {
        id,
        probability,
        words: likelihoodWords(probability),
        drains_m2: baseline.basinAreaM2[i],
        drains_m2_5: percentile(areas, 0.05) ?? 0,
        drains_m2_95: percentile(areas, 0.95) ?? 0,
      };
    }),
    buildings: buildings.map((building, i) => {
      const probability = shareFrom(tallies.wetWallM, buildings.length, i, wetWallFromM, rows);
      const walls = columnOf(tallies.wetWallM, buildings.length, i);
      return {
        building,
        name: plan.byId.get(building)?.feature.properties.name ?? building,
        probability,
        words: likelihoodWords(probability),
        wall_m_5: percentile(walls, 0.05) ?? 0,
        wall_m_95: percentile(walls, 0.95) ?? 0,
      };
    }),
    notes: notesOn(study, rows),
  };
}

function columnOf(list: Float32Array, columns: number, column: number): number[] {
  return Array.from(
    { length: columns === 0 ? 0 : list.length / columns },
    (_, row) => list[row * columns + column],
  );
}

/** By linear interpolation between ranks; null for no values. */
function percentile(values: readonly number[], part: number): number | null {
  if (values.length === 0) return null;
  const sorted = values.toSorted((a, b) => a - b);
  const rank = part * (sorted.length - 1);
  const low = Math.floor(rank);
  const high = Math.min(low + 1, sorted.length - 1);
  return sorted[low] + (rank - low) * (sorted[high] - sorted[low]);
}

function notesOn({ errors }: CertaintyStudy, rows: number): string[] {
  const cm = (lengthM: number): string => `${(lengthM * 100).toFixed(1)} cm`;
  return [
    `Storm and low spots were computed on ${rows} equally likely surfaces: the elevation with ${cm(errors.shortM)} of error added that changes within ${errors.shortRangeM} m and ${cm(errors.longM)} that neighbouring heights share over ${errors.longRangeM} m. How far errors reach is a judgement: try other lengths.`,
    `A low spot counts as there when one covers at least ${sameSpotShare * 100} % of its cells and can hold ${sameSpotShare * 100} % of its volume; ranges hold nine in ten of the surfaces on which it is there. The elevation has errors of its own already, so small puddles are overstated.`,
  ];
}
