import { InputError } from '../errors';
import type { LngLat, XY } from '../frame/frame';
import { distanceM } from '../frame/shapes';
import { featureName } from '../plan/feature-name';
import { featuresOf, type FeatureOf, type Plan } from '../plan/schema';

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
const fewestLevels = 3;

type Spot = FeatureOf<'spot-height'>;

/** Whether a plan has levels enough to be judged on them, without any elevation file. */
export function hasLevels(plan: Plan): boolean {
  const spots = featuresOf(plan, 'spot-height');
  return spots.filter((spot) => hasLevel(spot)).length >= fewestLevels;
}

function hasLevel({ properties: { state, elevation_m, drop_m } }: Spot): boolean {
  return state !== 'gone' && (elevation_m !== undefined || drop_m !== undefined);
}

/**
 * All levels of a plan above one zero. Those read as a drop below a mark (a string, a line of sight) are tied to the
 * others by a place that was read both ways; where no height is given at all, the mark is taken as zero.
 *
 * @param file - what to name in a sentence that refuses.
 * @throws {InputError} `levels-two-zeros` where nothing ties two zeros together.
 */
export function levelReadings(plan: Plan, file: string): LevelReading[] {
  const spots = featuresOf(plan, 'spot-height').filter((spot) => hasLevel(spot));
  const marks = marksOf(spots, file);
  return spots.map((spot) => {
    const { elevation_m, drop_m, accuracy_m } = spot.properties;
    const heightM = elevation_m ?? (marks.get(markOf(spot)) ?? 0) - (drop_m ?? 0);
    return {
      id: spot.id,
      name: featureName(spot),
      at: spot.geometry.coordinates,
      heightM,
      accuracyM: accuracy_m ?? usualAccuracyM,
    };
  });
}

function markOf({ properties }: Spot): string {
  return properties.mark ?? '';
}

/** Height of each mark above the common zero. */
function marksOf(spots: readonly Spot[], file: string): ReadonlyMap<string, number> {
  const names = new Set(
    spots.filter(({ properties }) => properties.drop_m !== undefined).map(markOf),
  );
  const marks = new Map<string, number>();
  for (const name of names) {
    const ties = spots.flatMap(({ properties: { elevation_m, drop_m, mark } }) =>
      elevation_m !== undefined && drop_m !== undefined && (mark ?? '') === name
        ? [elevation_m + drop_m]
        : [],
    );
    if (ties.length > 0) marks.set(name, ties.reduce((sum, at) => sum + at, 0) / ties.length);
  }
  const untied = [...names].filter((name) => !marks.has(name));
  const hasHeights = spots.some(({ properties }) => properties.elevation_m !== undefined);
  if (untied.length > 1 || (untied.length === 1 && (hasHeights || marks.size > 0))) {
    const [mark] = untied;
    throw new InputError({
      code: 'levels-two-zeros',
      where: file,
      problem: `its levels are read from two zeros, and nothing ties the drops below ${mark === '' ? 'the mark' : `‘${mark}’`} to the rest`,
      remedy: 'read one place both ways and give it elevation_m and drop_m',
    });
  }
  return marks;
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
