import { InputError } from '../errors';
import type { Frame, LngLat, XY } from '../frame/frame';
import { segmentCrossing } from '../frame/shapes';
import { featureName } from '../plan/feature-name';
import { featuresOf, type Plan } from '../plan/schema';
import { alongLine, type PuddleEdge } from './puddles';
import type { Sample } from './thin-plate';

/** A line at one height: a contour of a survey, the edge of a floor. */
export interface LevelLine {
  readonly id: string;
  readonly name: string;
  readonly line: readonly XY[];
  /** Above the common zero; null where it is to be found. */
  readonly heightM: number | null;
  readonly accuracyM: number;
}

/** How far a contour of a plan may be off where the plan does not say, metres. Common practice, no source. */
const usualContourM = 0.05;
/** A line settles as much as so many levels. */
const levelsOfLine = 2;
/** Lines whose heights differ by less may cross: they are one line, drawn twice. Our choice, no source. */
const oneHeightM = 0.005;

function there(plan: Plan) {
  return featuresOf(plan, 'level-line').filter(({ properties }) => properties.state !== 'gone');
}

/** As many levels as the lines of known height of a plan stand for. */
export function knownLevels(plan: Plan): number {
  return (
    levelsOfLine *
    there(plan).filter(({ properties }) => properties.elevation_m !== undefined).length
  );
}

/** Corners of the level lines. */
export function linePlaces(plan: Plan): LngLat[] {
  return there(plan).flatMap(({ geometry }) => geometry.coordinates);
}

/** The level lines of a plan, in the lot's frame. */
export function levelLines(plan: Plan, frame: Frame): LevelLine[] {
  return there(plan).map((feature) => ({
    id: feature.id,
    name: featureName(feature),
    line: feature.geometry.coordinates.map((at) => frame.toLocal(at)),
    heightM: feature.properties.elevation_m ?? null,
    accuracyM: feature.properties.accuracy_m ?? usualContourM,
  }));
}

/** Samples of the lines whose height is known. */
export function fixedSamples(lines: readonly LevelLine[]): Sample[] {
  return lines.flatMap(({ line, heightM }) =>
    heightM === null
      ? []
      : placesAlong(line).map((at): Sample => ({ at, valueM: heightM, line: null })),
  );
}

/** A line of unknown height as an edge whose level is found with the surface. */
export function asEdge({ id, name, line, heightM }: LevelLine): PuddleEdge[] {
  if (heightM !== null) return [];
  return [{ id, name, isArea: false, edge: placesAlong(line), deepest: null }];
}

function placesAlong(line: readonly XY[]): XY[] {
  return [...alongLine(line), line[line.length - 1]];
}

/** @throws {InputError} where two lines at different heights cross. */
export function refuseCrossing(lines: readonly LevelLine[], file: string): void {
  for (const [i, one] of lines.entries()) {
    for (const other of lines.slice(i + 1)) {
      const differ =
        one.heightM !== null &&
        other.heightM !== null &&
        Math.abs(one.heightM - other.heightM) > oneHeightM;
      if (!differ || !cross(one.line, other.line)) continue;
      throw new InputError({
        code: 'level-lines-cross',
        where: `${file}, ${one.name}`,
        problem: `it crosses ${other.name}, and the ground cannot lie at ${metres(one.heightM)} and at ${metres(other.heightM)} in one place`,
        remedy: 'move one of them, or correct its height; at a wall let both end there',
      });
    }
  }
}

function cross(a: readonly XY[], b: readonly XY[]): boolean {
  return a
    .slice(1)
    .some((to, i) =>
      b.slice(1).some((end, j) => segmentCrossing(a[i], to, b[j], end) !== undefined),
    );
}

function metres(heightM: number | null): string {
  return `${(heightM ?? 0).toFixed(2)} m`;
}
