import { InputError } from '../errors';
import type { LngLat, XY } from '../frame/frame';
import { distanceM } from '../frame/shapes';
import { featureName } from '../plan/feature-name';
import { featuresOf, type FeatureOf, type Plan } from '../plan/schema';
import { knownLevels } from './level-lines';
import { settleMarks, type Closing, type TiedPlace } from './marks';

/** A level that was read at a place, above the zero that all of them share. */
export interface LevelReading {
  readonly id: string;
  readonly name: string;
  readonly at: LngLat;
  readonly heightM: number;
  /** How far it may be off, metres. */
  readonly accuracyM: number;
}

/** Error of a level where the plan does not say, metres: string and line level, or a hose, with care. Common practice, no source. */
export const usualAccuracyM = 0.01;

/** Fewer levels settle no surface. */
export const fewestLevels = 3;

type Spot = FeatureOf<'spot-height'>;

/** Whether a plan has levels enough to be judged on them, without any elevation file. */
export function hasLevels(plan: Plan): boolean {
  const spots = featuresOf(plan, 'spot-height');
  return spots.filter((spot) => hasLevel(spot)).length + knownLevels(plan) >= fewestLevels;
}

function hasLevel(spot: Spot): boolean {
  const { state, elevation_m } = spot.properties;
  return state !== 'gone' && (elevation_m !== undefined || tiesOf(spot).length > 0);
}

/** Names of the levels that nobody read, so that they count for nothing. */
export function unreadLevels(plan: Plan): string[] {
  return featuresOf(plan, 'spot-height')
    .filter((spot) => spot.properties.state !== 'gone' && !hasLevel(spot))
    .map(featureName);
}

/** That levels were left out, with their names; none where all were read. */
export function unreadWords(names: readonly string[]): string[] {
  if (names.length === 0) return [];
  const which =
    names.length === 1
      ? names[0]
      : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
  const [has, are] = names.length === 1 ? ['has', 'is'] : ['have', 'are'];
  return [
    `${which} ${has} neither a height nor a drop below a mark and ${are} left out: give elevation_m or drop_m.`,
  ];
}

/** All levels of a plan, and how the lines of levelling close. */
export interface SettledLevels {
  readonly readings: readonly LevelReading[];
  readonly closings: readonly Closing[];
}

/**
 * All levels of a plan above one zero. Those read as a drop below a mark (a string, a line of sight, a set-up of an
 * instrument) are tied to the others by places that were read from both; where no height is given at all, the first mark
 * is taken as zero.
 *
 * @param file - what to name in a sentence that refuses.
 * @throws {InputError} `levels-two-zeros` where nothing ties two zeros together, `levels-open-loop` where a line of
 *   levelling does not come back to where it began.
 */
export function settledLevels(plan: Plan, file: string): SettledLevels {
  const spots = featuresOf(plan, 'spot-height').filter((spot) => hasLevel(spot));
  const places = spots.map((spot): TiedPlace => ({
    name: featureName(spot),
    elevationM: spot.properties.elevation_m ?? null,
    accuracyM: spot.properties.accuracy_m ?? usualAccuracyM,
    ties: tiesOf(spot),
  }));
  const { marksM, closings } = settleMarks(places, file);
  const readings = spots.map((spot, i): LevelReading => {
    const { name, elevationM, accuracyM, ties } = places[i];
    const heights = ties.map(({ mark, dropM }) => (marksM.get(mark) ?? 0) - dropM);
    const heightM = elevationM ?? heights.reduce((sum, at) => sum + at, 0) / heights.length;
    return { id: spot.id, name, at: spot.geometry.coordinates, heightM, accuracyM };
  });
  return { readings, closings };
}

/** The levels alone, see {@link settledLevels}. */
export function levelReadings(plan: Plan, file: string): LevelReading[] {
  return [...settledLevels(plan, file).readings];
}

function tiesOf({ properties: { drop_m, mark, also = [] } }: Spot): TiedPlace['ties'] {
  return [
    ...(drop_m === undefined ? [] : [{ mark: mark ?? '', dropM: drop_m }]),
    ...also.map((other) => ({ mark: other.mark, dropM: other.drop_m })),
  ];
}

/** Places nearer than this are one. */
const samePlaceM = 0.05;
/** Levels of one place may differ by so much; more is a slip. Our choice, no source. */
const mostApartM = 0.1;

/** A level at a place of the lot's frame. */
export type LocalLevel = Omit<LevelReading, 'at'> & { readonly at: XY };

/**
 * Levels with those of one place put together, their mean.
 *
 * @throws {InputError} `levels-differ` where two of one place differ by more than a slip of the hand.
 */
export function distinctLevels(levels: readonly LocalLevel[], file: string): LocalLevel[] {
  const kept: { level: LocalLevel; count: number }[] = [];
  for (const level of levels) {
    const found = kept.findIndex((other) => distanceM(other.level.at, level.at) < samePlaceM);
    if (found === -1) {
      kept.push({ level, count: 1 });
      continue;
    }
    const { level: first, count } = kept[found];
    const apartM = Math.abs(first.heightM - level.heightM);
    if (apartM > mostApartM) {
      throw new InputError({
        code: 'levels-differ',
        where: `${file}, ${level.name}`,
        problem: `it lies where ${first.name} lies and was read ${apartM.toFixed(2)} m ${level.heightM > first.heightM ? 'higher' : 'lower'}`,
        remedy: 'read that place again, or take one of the two out',
      });
    }
    const heightM = (first.heightM * count + level.heightM) / (count + 1);
    kept[found] = { level: { ...first, heightM }, count: count + 1 };
  }
  return kept.map(({ level }) => level);
}
