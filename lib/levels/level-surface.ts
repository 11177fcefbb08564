import { convex, featureCollection, point } from '@turf/turf';
import { InputError } from '../errors';
import type { Frame, XY } from '../frame/frame';
import { contains, distanceM, type Ring } from '../frame/shapes';
import type { Plan } from '../plan/schema';
import { breakLines } from './break-lines';
import { asEdge, fixedSamples, levelLines, refuseCrossing } from './level-lines';
import { puddleEdges, type PuddleEdge } from './puddles';
import { distinctLevels, fewestLevels, type LocalLevel } from './readings';
import { thinPlate, type Jump, type Sample, type ThinPlate } from './thin-plate';

/** The surface that levels make, and how good it is. */
export interface LevelSurface {
  readonly surface: ThinPlate;
  /** Around the outermost of what it is made from: beyond it nothing was measured. */
  readonly hull: Ring;
  /** Levels of one place put together. */
  readonly levels: readonly LocalLevel[];
  readonly puddles: readonly PuddleEdge[];
  /** What half of the levels were foretold within by the others, metres; and no better than they were read. */
  readonly errorM: number;
  /** Standard deviation of the surface's error, metres: of what the levels were foretold by, and no less than of the readings. */
  readonly rmseM: number;
}

/**
 * Half of normally spread errors are within their standard deviation over this. It takes no more of one level that is far off
 * than of any other. Source: Rousseeuw and Croux, Alternatives to the median absolute deviation, 1993 (from memory).
 */
const deviationOfMedian = 1.4826;
/**
 * Equally likely surfaces add an error to one that is there, which lowers every spill twice. With so much more of it ranges of
 * nine in ten hold the volume of a made hollow (twenty guided levels to 1 cm) in 91 to 93 of 100 draws, without it in 83 to 89.
 * Our choice, by that measurement.
 */
const moreForSpills = 1.15;

/**
 * A level that all others together put so much elsewhere, metres, is a slip where those foretell one another so many times
 * better. Our choices, no source.
 */
const slipM = 3;
const slipTimes = 5;
const mostSuspects = 6;
/**
 * The surface of levels with the edges of puddles, level lines and break lines of a plan.
 *
 * @param file - what to name in a sentence that refuses.
 * @throws {InputError} `level-lines-cross`, `puddle-over-hill`, `levels-in-line`, `levels-differ`, `level-doubtful`.
 * Cost: see `thinPlate`.
 */
export function levelSurface(
  plan: Plan,
  frame: Frame,
  readings: readonly LocalLevel[],
  file: string,
): LevelSurface {
  const levels = distinctLevels(readings, file);
  const lines = levelLines(plan, frame);
  refuseCrossing(lines, file);
  const puddles = [...puddleEdges(plan, frame), ...lines.flatMap(asEdge)];
  const breaks = breakLines(plan, frame, levels, within(levels));
  const fixed = thinned([...fixedSamples(lines), ...breaks.samples]);
  const samples = samplesOf(levels, puddles, fixed);
  const surface =
    thinPlate(samples, puddles.length, breaks.jumps) ??
    // Where the levels do not tell a jump they may still tell the ground.
    thinPlate(samples, puddles.length);
  const hull = hullOf(samples.map(({ at }) => at));
  if (surface === null || hull === null) throw inLine(file);
  refuseSlip(levels, puddles, { fixed, jumps: breaks.jumps }, surface, file);
  refuseHills(levels, puddles, surface, file);
  const accuracyM = Math.sqrt(mean([...levels, ...lines].map((level) => level.accuracyM ** 2)));
  const halfM = median(foretold(levels, surface));
  return {
    surface,
    hull,
    levels,
    puddles,
    errorM: Math.max(accuracyM, halfM),
    rmseM: Math.max(accuracyM, moreForSpills * deviationOfMedian * halfM),
  };
}

function samplesOf(
  levels: readonly LocalLevel[],
  puddles: readonly PuddleEdge[],
  fixed: readonly Sample[],
): Sample[] {
  const read = levels.map(({ at, heightM }): Sample => ({ at, valueM: heightM, line: null }));
  return [
    ...apart(read, fixed),
    ...puddles.flatMap(({ edge, deepest }, line): Sample[] => [
      ...edge.map((at) => ({ at, valueM: 0, line })),
      ...(deepest === null ? [] : [{ at: deepest.at, valueM: -deepest.depthM, line }]),
    ]),
  ];
}

/** How far each level lies from what the others foretell, metres. */
function foretold(levels: readonly LocalLevel[], { leftOutM }: ThinPlate): number[] {
  return levels.map((_, i) => Math.abs(leftOutM[i])).filter((value) => Number.isFinite(value));
}

/** @throws {InputError} where all the others agree without one level, and put the ground elsewhere there. */
function refuseSlip(
  levels: readonly LocalLevel[],
  puddles: readonly PuddleEdge[],
  lines: { readonly fixed: readonly Sample[]; readonly jumps: readonly Jump[] },
  { leftOutM }: ThinPlate,
  file: string,
): void {
  // A slip puts its neighbours off as well, at the corners even more.
  const suspects = levels
    .map((level, i) => ({ level, offM: leftOutM[i] }))
    .filter(({ offM }) => Math.abs(offM) > slipM)
    .sort((a, b) => Math.abs(b.offM) - Math.abs(a.offM))
    .slice(0, mostSuspects)
    .map((suspect) => {
      const others = levels.filter((level) => level !== suspect.level);
      const without = thinPlate(
        samplesOf(others, puddles, lines.fixed),
        puddles.length,
        lines.jumps,
      );
      return {
        ...suspect,
        othersM: without === null ? Infinity : median(foretold(others, without)),
      };
    })
    .sort((a, b) => a.othersM - b.othersM);
  if (suspects.length === 0) return;
  const [{ level, offM, othersM }] = suspects;
  if (slipTimes * othersM > Math.abs(offM)) return;
  throw new InputError({
    code: 'level-doubtful',
    where: `${file}, ${level.name}`,
    problem: `it was read ${Math.abs(offM).toFixed(1)} m ${offM > 0 ? 'higher' : 'lower'} than all other levels together say`,
    remedy: 'read it again or take it out',
  });
}

/** Nearer than this a second sample only makes the surface unsteady, metres. */
const sampleApartM = 0.05;

/** Whether a place lies within the outermost levels. */
function within(levels: readonly LocalLevel[]): (at: XY) => boolean {
  const ring = levels.length < fewestLevels ? null : hullOf(levels.map(({ at }) => at));
  return (at) => ring !== null && contains([ring], at);
}

/** More samples on lines make the surface slow and no better. Our choice, no source. */
const mostOnLines = 400;

/** Evenly so many of some samples as the surface is made from in about a second. */
function thinned(samples: readonly Sample[]): readonly Sample[] {
  const every = samples.length / mostOnLines;
  return every <= 1 ? samples : samples.filter((_, i) => i % every < 1);
}

/** Samples with those of others that do not lie where one lies already. */
function apart(read: readonly Sample[], others: readonly Sample[]): Sample[] {
  const kept = [...read];
  for (const other of others) {
    if (kept.every(({ at }) => distanceM(at, other.at) >= sampleApartM)) kept.push(other);
  }
  return kept;
}

/** A level may lie so far over the edge of water that it stood in, metres, and its own accuracy. Our choice, no source. */
const overEdgeM = 0.03;

/** @throws {InputError} where a level inside a puddle lies above its edge. */
function refuseHills(
  levels: readonly LocalLevel[],
  puddles: readonly PuddleEdge[],
  { levelsM }: ThinPlate,
  file: string,
): void {
  puddles.forEach(({ name, edge, isArea }, line) => {
    if (!isArea) return;
    const hill = levels.find(
      ({ at, heightM, accuracyM }) =>
        heightM > levelsM[line] + overEdgeM + accuracyM && contains([edge], at),
    );
    if (hill === undefined) return;
    throw new InputError({
      code: 'puddle-over-hill',
      where: `${file}, ${name}`,
      problem: `${hill.name} lies inside this edge of water and ${cm(hill.heightM - levelsM[line])} above it, and water does not stand over a hill`,
      remedy: 'leave the hill out of the outline, or read that level again',
    });
  });
}

function hullOf(places: readonly XY[]): Ring | null {
  // Planar work: local metres stand where degrees would.
  const hull = convex(featureCollection(places.map((at) => point([...at]))));
  const ring = hull?.geometry.coordinates[0].slice(0, -1).map(([x, y]): XY => [x, y]);
  return ring === undefined || ring.length < 3 ? null : ring;
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function median(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
}

/** A length as it is said of levels. */
export function cm(metres: number): string {
  return `${(100 * metres).toFixed(metres < 0.1 ? 1 : 0)} cm`;
}

function inLine(file: string): InputError {
  return new InputError({
    code: 'levels-in-line',
    where: file,
    problem: 'all its levels lie on one line, which makes no surface',
    remedy: 'read some to either side of it',
  });
}
