import { InputError } from '../errors';
import type { XY } from '../frame/frame';
import { distanceM, lengthM } from '../frame/shapes';
import { levelReadings } from '../levels/readings';
import { featureName } from '../plan/feature-name';
import type { LocalPlan } from '../plan/local-plan';
import { drainedAreas, type DrainedArea } from './drained-areas';
import { flowOf, lineFall, stationOn, type LevelOnLine, type LineFall } from './line-fall';

/** A line of the plan, or from one level to another. */
export interface NamedLine extends LineFall {
  /** Id of the pipe or swale; null for the line between two levels. */
  readonly feature: string | null;
  readonly name: string;
}

/** Lines with two levels or more on them. */
export interface LinesOnPaper {
  readonly lines: readonly NamedLine[];
  /** Rain on the drained areas that they are asked to carry, mm in an hour. */
  readonly flow_mm_per_h: number;
}

/** Intensity that pipes are sized for where nothing else is said: about 4 in/h. Common practice, no source. */
export const usualIntensityMmPerH = 100;
/** A level farther off a line does not speak of it, metres. Our choice, no source. */
const onLineM = 1;
/** Levels nearer along a line are one, metres. */
const apartM = 0.1;

/** Which levels to look between, and how hard it rains; the highest, the lowest and the usual where not said. */
export interface LineQuestion {
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  readonly mmPerH?: number | undefined;
}

/**
 * How the pipes and swales of a plan fall that have two levels or more along them, and the way between two levels.
 *
 * @param file - what to name in a sentence that refuses.
 * @throws {InputError} `line-levels` with fewer than two levels, `line-level-unknown`, `line-one-place`; what reading
 *   levels throws.
 */
export function linesOnPaper(plan: LocalPlan, file: string, asked: LineQuestion): LinesOnPaper {
  const found = linesOf(plan, drainedAreas(plan), file, asked);
  if (found.lines.length > 0) return found;
  throw new InputError({
    code: 'line-levels',
    where: file,
    problem: 'it has fewer than two levels, and a fall is between two',
    remedy: 'add spot heights with elevation_m or drop_m, one at each end of the way',
  });
}

interface Placed extends Omit<LevelOnLine, 'at_m'> {
  readonly id: string;
  readonly at: XY;
}

/** The same where fewer than two levels give no lines. */
export function linesOf(
  plan: LocalPlan,
  areas: readonly DrainedArea[],
  file: string,
  { from, to, mmPerH = usualIntensityMmPerH }: LineQuestion = {},
): LinesOnPaper {
  const levels = levelReadings(plan.plan, file).map(
    ({ id, name, at, heightM, accuracyM }): Placed => ({
      id,
      name,
      height_m: heightM,
      accuracy_m: accuracyM,
      at: plan.frame.toLocal(at),
    }),
  );
  if (levels.length < 2) return { lines: [], flow_mm_per_h: mmPerH };
  const flow = flowOf(
    areas.reduce((sum, { areaM2 }) => sum + areaM2, 0),
    mmPerH,
  );
  const fallOf = (feature: string | null, name: string, points: readonly XY[]): NamedLine[] => {
    const on = levelsOn(points, levels);
    if (on.length < 2) return [];
    return [{ feature, name, ...lineFall(lengthM(points), on, flow) }];
  };
  const start = levelNamed(levels, from, file) ?? extreme(levels, 1);
  const end = levelNamed(levels, to, file) ?? extreme(levels, -1);
  const isNamed = from !== undefined || to !== undefined;
  const isOnePlace = distanceM(start.at, end.at) < apartM;
  if (isOnePlace && isNamed) throw onePlace(file, start, end);
  const between = isOnePlace
    ? []
    : fallOf(null, `from ${start.name} to ${end.name}`, [start.at, end.at]);
  if (isNamed) return { lines: between, flow_mm_per_h: mmPerH };
  const drawn = [...plan.of['drain-pipe'], ...plan.of.swale].flatMap(({ id, feature, shape }) =>
    fallOf(id, featureName(feature), shape.points),
  );
  return { lines: [...drawn, ...between], flow_mm_per_h: mmPerH };
}

/** The highest level by 1, the lowest by -1. */
function extreme(levels: readonly Placed[], sign: 1 | -1): Placed {
  return levels.reduce((a, b) => (sign * b.height_m > sign * a.height_m ? b : a));
}

function levelNamed(
  levels: readonly Placed[],
  named: string | undefined,
  file: string,
): Placed | undefined {
  if (named === undefined) return undefined;
  const found = levels.find(({ id, name }) => id === named || name === named);
  if (found !== undefined) return found;
  const some = levels.slice(0, 8).map(({ name }) => name);
  throw new InputError({
    code: 'line-level-unknown',
    where: file,
    problem: `it has no level called '${named}'`,
    remedy: `name one of ${some.join(', ')}${levels.length > some.length ? ' ...' : ''}`,
  });
}

function onePlace(file: string, a: Placed, b: Placed): InputError {
  return new InputError({
    code: 'line-one-place',
    where: file,
    problem: `${a.name} and ${b.name} lie at one place, and a fall is between two`,
    remedy: 'name two levels that lie apart',
  });
}

/** The levels that lie on a line, in their order along it. */
function levelsOn(line: readonly XY[], levels: readonly Placed[]): LevelOnLine[] {
  const found = levels
    .flatMap(({ at, ...level }) => {
      const { atM, offM } = stationOn(line, at);
      return offM > onLineM ? [] : [{ ...level, at_m: atM, offM }];
    })
    .sort((a, b) => a.at_m - b.at_m);
  // Of two at one station the nearer speaks.
  return found
    .filter(
      (level, i) =>
        !found.some(
          (other, j) =>
            j !== i &&
            Math.abs(other.at_m - level.at_m) < apartM &&
            (other.offM < level.offM || (other.offM === level.offM && j < i)),
        ),
    )
    .map(({ name, at_m, height_m, accuracy_m }) => ({ name, at_m, height_m, accuracy_m }));
}
