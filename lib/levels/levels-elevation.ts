import { convex, featureCollection, point } from '@turf/turf';
import { InputError } from '../errors';
import { cellCentre, type Grid } from '../elevation/grid';
import { info, warning, type Note } from '../elevation/note';
import type { Elevation } from '../elevation/window/read-window';
import { localFrame, makeFrame, type Frame, type LngLat, type XY } from '../frame/frame';
import { boundsOf, contains, distanceM, type Ring } from '../frame/shapes';
import type { Plan } from '../plan/schema';
import { breakLines } from './break-lines';
import {
  asEdge,
  fixedSamples,
  knownLevels,
  levelLines,
  linePlaces,
  refuseCrossing,
} from './level-lines';
import { puddleEdges, type PuddleEdge } from './puddles';
import type { Closing } from './marks';
import { distinctLevels, fewestLevels, settledLevels, type LocalLevel } from './readings';
import { thinPlate, type Jump, type Sample, type ThinPlate } from './thin-plate';

/** Ground made from levels, as if it had been read from a file, and how good it is. */
export interface LevelsElevation {
  readonly elevation: Elevation;
  /** What half of the levels were foretold within by the others, metres; and no better than they were read. */
  readonly errorM: number;
}

/** Cells of ground made from levels, metres, and no more of them than so many. Our choices, no source. */
const cellM = 0.25;
const mostCells = 250_000;
/**
 * A level that all others together put so much elsewhere, metres, is a slip where those foretell one another so many times
 * better. Our choices, no source.
 */
const slipM = 3;
const slipTimes = 5;
const mostSuspects = 6;
/** What is listed as foretold badly: over so much, metres, and so many times what half are foretold within. Our choices. */
const doubtfulM = 0.05;
const doubtfulTimes = 4;
const mostListed = 4;

/**
 * Makes the ground within a plan's levels: spot heights and edges of puddles. It ends where they end, at the line around
 * the outermost, for what lies beyond was not measured.
 *
 * @param file - what to name in a sentence that refuses.
 * @throws {InputError} `level-lines-cross`, `puddle-over-hill`, `levels-open-loop`, `levels-few`, `levels-in-line`, `levels-two-zeros`, `levels-differ`, `level-doubtful`.
 * Cost: see `thinPlate`; 500 levels on 250,000 cells take about a second.
 */
export function levelsElevation(plan: Plan, file: string): LevelsElevation {
  const { readings, closings } = settledLevels(plan, file);
  const known = readings.length + knownLevels(plan);
  if (known < fewestLevels) throw tooFew(file, readings.length);
  const frame = makeFrame(localFrame(middleOf(placesOf(plan, readings))));
  const levels = distinctLevels(
    readings.map((reading) => ({ ...reading, at: frame.toLocal(reading.at) })),
    file,
  );
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
  const grid = gridOf(surface, hull, frame);
  const accuracyM = Math.sqrt(mean([...levels, ...lines].map((level) => level.accuracyM ** 2)));
  const errorM = Math.max(accuracyM, median(foretold(levels, surface)));
  return {
    elevation: {
      ...asRead(grid, errorM),
      notes: [...notesOn(levels, puddles, surface, errorM), ...closingNotes(closings)],
    },
    errorM,
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

function placesOf(plan: Plan, readings: readonly { readonly at: LngLat }[]): LngLat[] {
  return [...readings.map(({ at }) => at), ...linePlaces(plan)];
}

/** The ground's cells within the hull, and no data beyond. */
function gridOf(surface: ThinPlate, hull: Ring, frame: Frame): Grid {
  const box = boundsOf(hull);
  const areaM2 = (box.east - box.west) * (box.north - box.south);
  const side = Math.max(cellM, Math.sqrt(areaM2 / mostCells));
  const width = Math.max(1, Math.ceil((box.east - box.west) / side));
  const height = Math.max(1, Math.ceil((box.north - box.south) / side));
  const places = {
    width,
    height,
    cellM: side,
    westM: box.west,
    northM: box.north,
    frame: frame.spec,
  };
  const heights = new Float64Array(width * height).fill(Number.NaN);
  let lowest = Infinity;
  const z = new Float32Array(heights.length);
  const empty: Grid = { ...places, z, datumM: 0 };
  for (let cell = 0; cell < heights.length; cell++) {
    const [x, y] = cellCentre(empty, cell);
    if (!contains([hull], [x, y])) continue;
    heights[cell] = surface.at(x, y);
    lowest = Math.min(lowest, heights[cell]);
  }
  const datumM = Math.floor(lowest) - 1;
  for (let cell = 0; cell < z.length; cell++) z[cell] = heights[cell] - datumM;
  return { ...empty, datumM };
}

/** The grid with what is told of one that was read from a file. */
function asRead(grid: Grid, errorM: number): Omit<Elevation, 'notes'> {
  let lowestM = Infinity;
  let highestM = -Infinity;
  for (const z of grid.z) {
    if (z < lowestM) lowestM = z;
    if (z > highestM) highestM = z;
  }
  return {
    grid,
    edges: { north: 'data', east: 'data', south: 'data', west: 'data' },
    marginM: 0,
    filled: { mask: null, count: 0, areaM2: 0 },
    source: 'levels of the plan',
    systemName: 'levels of the plan, in a frame of their own',
    written: null,
    sourceCellM: grid.cellM,
    resampled: false,
    vertical: { metres: 1, name: 'metres', known: 'given' },
    lowestM: lowestM + grid.datumM,
    highestM: highestM + grid.datumM,
    statedErrorM: errorM,
  };
}

function notesOn(
  levels: readonly LocalLevel[],
  puddles: readonly PuddleEdge[],
  surface: ThinPlate,
  errorM: number,
): Note[] {
  const edges =
    puddles.length === 0
      ? ''
      : ` and ${puddles.length === 1 ? 'the edge of a puddle' : `the edges of ${puddles.length} puddles`}`;
  const notes = [
    info(
      'ground-of-levels',
      `The ground is made from ${levels.length} levels${edges} (thin-plate spline, Duchon 1977): half of the levels are foretold by the others within ${cm(errorM)}. What lies between them is not known better than that.`,
    ),
    warning(
      'ends-at-levels',
      'Nothing is known beyond the outermost levels: water that comes from there is missing, and water that reaches the line around them is taken to run on. What drains to a place is ‘at least’.',
    ),
  ];
  const doubtful = levels
    .map(({ name }, i) => ({ name, offM: surface.leftOutM[i] }))
    .filter(({ offM }) => Math.abs(offM) > Math.max(doubtfulM, doubtfulTimes * errorM))
    .sort((a, b) => Math.abs(b.offM) - Math.abs(a.offM));
  if (doubtful.length > 0) notes.push(aloneNote(doubtful));
  puddles.forEach(({ name }, line) => {
    notes.push(
      info(
        'puddle-level',
        `The edge of ${name} lies at ${surface.levelsM[line].toFixed(2)} m above the zero of the levels.`,
      ),
    );
  });
  return notes;
}

function closingNotes(closings: readonly Closing[]): Note[] {
  if (closings.length === 0) return [];
  const worst = closings.reduce((a, b) => (Math.abs(b.errorM) > Math.abs(a.errorM) ? b : a));
  return [
    info(
      'levelling-closes',
      `The levelling closes within ${cm(Math.abs(worst.errorM))} (at ${worst.name}, over ${worst.setUps} ${worst.setUps === 1 ? 'set-up' : 'set-ups'}); that is shared out by least squares.`,
    ),
  ];
}

/** Levels that stand alone: what they say, no other confirms. */
function aloneNote(levels: readonly { readonly name: string; readonly offM: number }[]): Note {
  const said = levels
    .slice(0, mostListed)
    .map(
      ({ name, offM }) =>
        `${name} (${cm(Math.abs(offM))} ${offM > 0 ? 'higher' : 'lower'} than the rest foretell)`,
    );
  const more = levels.length - said.length;
  return info(
    'levels-alone',
    `The ground hangs on single levels; read them again, and one more beside each: ${said.join(', ')}${more === 0 ? '' : ` and ${more} more`}.`,
  );
}

function cm(metres: number): string {
  return `${(100 * metres).toFixed(metres < 0.1 ? 1 : 0)} cm`;
}

function hullOf(places: readonly XY[]): Ring | null {
  // Planar work: local metres stand where degrees would.
  const hull = convex(featureCollection(places.map((at) => point([...at]))));
  const ring = hull?.geometry.coordinates[0].slice(0, -1).map(([x, y]): XY => [x, y]);
  return ring === undefined || ring.length < 3 ? null : ring;
}

function middleOf(places: readonly LngLat[]): LngLat {
  return [mean(places.map(([lng]) => lng)), mean(places.map(([, lat]) => lat))];
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function median(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
}

function tooFew(file: string, count: number): InputError {
  return new InputError({
    code: 'levels-few',
    where: file,
    problem: `it has ${count === 0 ? 'no levels' : count === 1 ? 'one level' : `${count} levels`}, and three are the fewest that make a surface`,
    remedy: 'add spot heights, each with elevation_m or drop_m, or name an elevation file',
  });
}

function inLine(file: string): InputError {
  return new InputError({
    code: 'levels-in-line',
    where: file,
    problem: 'all its levels lie on one line, which makes no surface',
    remedy: 'read some to either side of it',
  });
}
