import { cellAt, type Grid } from '../../elevation/grid';
import { InputError } from '../../errors';
import type { LngLat, XY } from '../../frame/frame';
import { contains, distanceM } from '../../frame/shapes';
import { levelReadings, type LevelReading } from '../../levels/readings';
import { along } from '../../levels/puddles';
import { featureName } from '../../plan/feature-name';
import type { LocalPlan } from '../../plan/local-plan';
import type { ShapedGround } from '../storm/shaped-ground';
import type { LowSpotRow } from './drainage-result';

/** A place where one more level would settle most. Field names are those of the JSON output. */
export interface NextReading {
  readonly at: LngLat;
  readonly what: 'spill' | 'deepest' | 'wall';
  /** Low spot or building that hangs on it. */
  readonly feature: string;
  readonly why: string;
  /** The two nearest levels and how far they are, so that the place is found with two tapes. */
  readonly from: readonly { readonly level: string; readonly distance_m: number }[];
}

/** A place that is nearer to a level than this has been read, metres. Our choices, no source. */
const readM = 1;
const wallReadM = 2.5;
/** Low spots that are looked at, and as many places as are named. */
const mostSpots = 3;
const mostNamed = 4;

interface Hangs {
  readonly place: XY;
  readonly what: NextReading['what'];
  readonly feature: string;
  readonly why: string;
  readonly leastM: number;
}

/**
 * Where to read the next levels: where the largest low spots spill, for that makes their depth and volume; where they are deepest;
 * and along walls that no level is near, for it is there that one asks which way the ground falls. Places that were read
 * already are left out, and so is what is dug as drawn. In the order of what hangs on them.
 */
export function measureNext(
  levels: readonly LevelReading[],
  plan: LocalPlan,
  grid: Grid,
  lowSpots: readonly LowSpotRow[],
): NextReading[] {
  const read = levels.map(({ name, at }) => ({ name, at: plan.frame.toLocal(at) }));
  const nearest = (place: XY) =>
    read
      .map(({ name, at }) => ({ level: name, distance_m: distanceM(at, place) }))
      .sort((a, b) => a.distance_m - b.distance_m)
      .slice(0, 2);
  const isDug = (at: LngLat): boolean =>
    plan.of.basin.some(({ shape }) => contains(shape.rings, plan.frame.toLocal(at)));
  const spots = lowSpots
    .filter(({ deepest }) => !isDug(deepest))
    .toSorted((a, b) => b.volume_m3 - a.volume_m3)
    .slice(0, mostSpots);
  const asked: Hangs[] = [
    ...spots.map(({ id, number, spill }) => ({
      place: plan.frame.toLocal(spill),
      what: 'spill' as const,
      feature: id,
      why: `how deep low spot ${number} gets hangs on where it spills`,
      leastM: readM,
    })),
    ...wallPlaces(plan, grid, (place) => nearest(place).at(0)?.distance_m ?? Infinity),
    ...spots.map(({ id, number, deepest }) => ({
      place: plan.frame.toLocal(deepest),
      what: 'deepest' as const,
      feature: id,
      why: `how much low spot ${number} holds hangs on its deepest place`,
      leastM: readM,
    })),
  ];
  const named: NextReading[] = [];
  for (const { place, what, feature, why, leastM } of asked) {
    const from = nearest(place);
    if (from.length === 0 || from[0].distance_m < leastM) continue;
    const isNamed = named.some(({ at }) => distanceM(plan.frame.toLocal(at), place) < leastM);
    if (isNamed || named.length === mostNamed) continue;
    named.push({ at: plan.frame.toLngLat(place), what, feature, why, from });
  }
  return named;
}

/**
 * The same of ground as it was shaped: made from the plan's levels alone, or from a file in which they replace the heights
 * of some place, and then of that place. None where no ground is of levels, or where they do not make any as they stand.
 */
export function nextReadings(
  { elevation, ground }: ShapedGround,
  plan: LocalPlan,
  lowSpots: readonly LowSpotRow[],
): NextReading[] {
  const ofLevels = plan.plan.lotfall.elevation?.of_levels === true;
  const replaced = ground.relevelled.filter(({ fault }) => fault === null);
  if (!ofLevels && replaced.length === 0) return [];
  try {
    const levels = levelReadings(plan.plan, 'the plan');
    if (ofLevels) return measureNext(levels, plan, elevation, lowSpots);
    const grid = { ...elevation, z: new Float32Array(elevation.z.length).fill(Number.NaN) };
    for (const { cells } of replaced) for (const cell of cells) grid.z[cell] = 0;
    const isMade = (at: LngLat): boolean => {
      const cell = cellAt(grid, ...plan.frame.toLocal(at));
      return cell !== -1 && !Number.isNaN(grid.z[cell]);
    };
    const spots = lowSpots.filter(({ deepest, spill }) => isMade(deepest) && isMade(spill));
    return measureNext(levels, plan, grid, spots);
  } catch (error) {
    if (error instanceof InputError) return [];
    throw error;
  }
}

/** For each building the place at its walls that lies farthest from any level, on ground that was made. */
function wallPlaces(plan: LocalPlan, grid: Grid, awayM: (place: XY) => number): Hangs[] {
  return plan.of.building.flatMap(({ id, feature, shape }) => {
    const places = along(shape.rings[0]).filter((place) => {
      const cell = cellAt(grid, ...place);
      return cell !== -1 && !Number.isNaN(grid.z[cell]);
    });
    if (places.length === 0) return [];
    const place = places.reduce((a, b) => (awayM(b) > awayM(a) ? b : a));
    const why = `which way the ground falls at ${featureName(feature)} is told by no level near there`;
    return [{ place, what: 'wall' as const, feature: id, why, leastM: wallReadM }];
  });
}
