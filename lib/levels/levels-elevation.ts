import { InputError } from '../errors';
import { cellCentre, type Grid } from '../elevation/grid';
import { info, warning, type Note } from '../elevation/note';
import type { Elevation } from '../elevation/window/read-window';
import { localFrame, makeFrame, type Frame, type LngLat } from '../frame/frame';
import { boundsOf, contains, type Bounds, type Ring } from '../frame/shapes';
import type { Plan } from '../plan/schema';
import { besideWalls, ledOnM } from './beside-walls';
import { cm, levelSurface, mean, type LevelSurface } from './level-surface';
import { knownLevels, linePlaces } from './level-lines';
import type { Closing } from './marks';
import { fewestLevels, settledLevels, unreadLevels, unreadWords } from './readings';

/** Ground made from levels, as if it had been read from a file, and how good it is. */
export interface LevelsElevation {
  readonly elevation: Elevation;
  /** Standard deviation of the error of its heights, metres. */
  readonly rmseM: number;
}

/** Cells of ground made from levels, metres, and no more of them than so many. Our choices, no source. */
const cellM = 0.25;
const mostCells = 250_000;
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
  const local = readings.map((reading) => ({ ...reading, at: frame.toLocal(reading.at) }));
  const made = levelSurface(plan, frame, local, file);
  const grid = gridOf(made, frame, besideWalls(plan, frame, made.hull));
  const { rmseM } = made;
  return {
    elevation: {
      ...asRead(grid, rmseM),
      notes: [
        ...notesOn(made),
        ...unreadWords(unreadLevels(plan)).map((text) => warning('levels-unread', text)),
        ...closingNotes(closings),
      ],
    },
    rmseM,
  };
}

function placesOf(plan: Plan, readings: readonly { readonly at: LngLat }[]): LngLat[] {
  return [...readings.map(({ at }) => at), ...linePlaces(plan)];
}

/** The ground's cells within the hull and on to walls that it ends at, and no data beyond. */
function gridOf(
  { surface, hull }: LevelSurface,
  frame: Frame,
  isBeside: ((x: number, y: number) => boolean) | null,
): Grid {
  const box = boxAround(hull, isBeside === null ? 0 : ledOnM + 2 * cellM);
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
    if (!contains([hull], [x, y]) && isBeside?.(x, y) !== true) continue;
    heights[cell] = surface.at(x, y);
    lowest = Math.min(lowest, heights[cell]);
  }
  const datumM = Math.floor(lowest) - 1;
  for (let cell = 0; cell < z.length; cell++) z[cell] = heights[cell] - datumM;
  return { ...empty, datumM };
}

/** The box of a ring, grown so that what stands beside it has cells. */
function boxAround(ring: Ring, byM: number): Bounds {
  const { west, south, east, north } = boundsOf(ring);
  return { west: west - byM, south: south - byM, east: east + byM, north: north + byM };
}

/** The grid with what is told of one that was read from a file. */
function asRead(grid: Grid, rmseM: number): Omit<Elevation, 'notes'> {
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
    statedErrorM: rmseM,
  };
}

function notesOn({ levels, puddles, surface, errorM }: LevelSurface): Note[] {
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

function middleOf(places: readonly LngLat[]): LngLat {
  return [mean(places.map(([lng]) => lng)), mean(places.map(([, lat]) => lat))];
}

function tooFew(file: string, count: number): InputError {
  return new InputError({
    code: 'levels-few',
    where: file,
    problem: `it has ${count === 0 ? 'no levels' : count === 1 ? 'one level' : `${count} levels`}, and three are the fewest that make a surface`,
    remedy: 'add spot heights, each with elevation_m or drop_m, or name an elevation file',
  });
}
