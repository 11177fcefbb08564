import { cellCentre, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { distanceM, lengthM } from '../frame/shapes';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import { CountedEdits, type Edit } from './edit';
import { openCellAt, type OpenGround } from './open-ground';
import { cellsAlong } from './rasterise';
import { pipeCapacityM3PerS, usualDiameterM, usualSlope } from './pipe-capacity';
import { hourS } from '../units/units';

/** Where a pipe lets its water out: a cell of open ground, or a way off it. */
export type PipeOutlet = number | 'storm-sewer' | 'off-map';
/** The same for all conduits; what a basin takes in goes into the soil below it. */
export type ConduitOutlet = PipeOutlet | 'soil';

/** A way that water takes below the ground: into an inlet, out at an outlet. */
export interface Conduit {
  /** Id of the yard drain, or of the drain pipe whose upper end is open. */
  readonly id: string;
  /** Cell of the inlet: the bottom of a low spot, if only of a few centimetres. */
  readonly inlet: number;
  readonly outlet: ConduitOutlet;
  readonly capacityM3PerS: number;
  readonly blocked: boolean;
  /** Drain pipe whose capacity it shares with others, or null. */
  readonly pipe: string | null;
}

/** A drain pipe, whether or not anything runs into it. */
export interface Pipe {
  readonly id: string;
  readonly outlet: PipeOutlet;
  readonly capacityM3PerS: number;
  readonly blocked: boolean;
}

/** Conduits of a ground, and what was done to the ground for their inlets. */
export interface Conduits {
  readonly conduits: readonly Conduit[];
  readonly pipes: ReadonlyMap<string, Pipe>;
  readonly edits: readonly Edit[];
}

/** An inlet is taken to stand at the lowest place that the ground falls to within this, metres. Our choice, no source. */
const inletReachM = 1;
/** An inlet on a slope is sunk this far below the ground around it, so that it takes what passes, metres. Our choice, no source. */
export const inletSunkM = 0.02;

/**
 * Finds inlets, outlets and capacities of drain pipes and yard drains, and sinks inlets that are not at the bottom of a low
 * spot already.
 *
 * A pipe runs from its higher end to its lower (as drawn when its slope is given). Its upper end is open and takes water, unless a
 * downspout or a yard drain names it. A yard drain empties into the pipe it names, else at its outlet, else
 * into a pipe that begins within a metre of it; so does a trench drain, whose grate is one level bed that leads to its lowest
 * place. What cannot fall to its outlet carries nothing.
 *
 * @param ground - heights so far; those of inlets are changed in place.
 */
export function layConduits(ground: OpenGround, plan: LocalPlan): Conduits {
  const runs = plan.of['drain-pipe'].map((pipe) => pipeRun(ground, pipe));
  const pipes = new Map(runs.map((run) => [run.id, run]));
  const drains = plan.of['yard-drain'].map((drain) =>
    yardDrain(ground, drain, drain.shape.at, pipes),
  );
  const trenches = plan.of['trench-drain'].map((drain) => trenchDrain(ground, drain, pipes));
  const named = new Set<string | null | undefined>([
    ...plan.of.downspout.map(({ feature }) => feature.properties.pipe),
    ...[...drains, ...trenches].map(({ conduit }) => conduit.pipe),
  ]);
  const open = runs
    .filter(({ id }) => !named.has(id))
    .map(({ id, start, outlet, capacityM3PerS, blocked, notes }) => ({
      conduit: { id, inlet: inletNear(ground, start), outlet, capacityM3PerS, blocked, pipe: id },
      notes,
    }));
  const closed = runs.filter(({ id }) => named.has(id));

  const edits: Edit[] = [];
  const conduits: Conduit[] = [];
  for (const [kind, list] of [
    ['yard-drain', drains],
    ['drain-pipe', open],
  ] as const) {
    for (const { conduit, notes } of list) {
      const earth = new CountedEdits(ground.grid.z, ground.grid.cellM ** 2);
      if (conduit.inlet !== -1) {
        conduits.push(conduit);
        if (!conduit.blocked) sink(ground.grid, conduit.inlet, earth);
      }
      edits.push(earth.edit(conduit.id, kind, inletNotes(conduit, notes)));
    }
  }
  for (const { conduit, notes, bed } of trenches) {
    const earth = new CountedEdits(ground.grid.z, ground.grid.cellM ** 2);
    if (conduit.inlet !== -1) {
      conduits.push(conduit);
      if (!conduit.blocked) sinkBed(ground.grid, bed, conduit.inlet, earth);
    }
    edits.push(earth.edit(conduit.id, 'trench-drain', inletNotes(conduit, notes)));
  }
  for (const { id, notes } of closed)
    edits.push({ id, kind: 'drain-pipe', cutM3: 0, fillM3: 0, notes });
  return { conduits, pipes, edits };
}

interface PipeRun extends Pipe {
  /** Its upper end. */
  readonly start: XY;
  readonly notes: readonly string[];
}

function pipeRun(ground: OpenGround, pipe: LocalFeature<'drain-pipe'>): PipeRun {
  const { properties } = pipe.feature;
  const { points } = pipe.shape;
  const notes: string[] = [];
  const heights = [points[0], points[points.length - 1]].map((at) => openHeight(ground, at));
  const backwards = properties.slope === undefined && heights[1] > heights[0];
  if (backwards) {
    notes.push(
      'The ground at its last point is higher than at its first: it is taken to run the other way.',
    );
  }
  const [start, end] = backwards
    ? [points[points.length - 1], points[0]]
    : [points[0], points[points.length - 1]];
  const slope = properties.slope ?? Math.abs(heights[1] - heights[0]) / lengthM(points);
  const diameterM = properties.diameter_m ?? usualDiameterM;
  const capacityM3PerS = Number.isNaN(slope)
    ? pipeCapacityM3PerS(diameterM, usualSlope, properties.roughness)
    : pipeCapacityM3PerS(diameterM, slope, properties.roughness);
  const blocked = properties.blocked === true;
  notes.push(
    blocked
      ? 'It is blocked and carries nothing.'
      : `It carries up to ${litresPerSecond(capacityM3PerS)} when full: ${Math.round(diameterM * 1000)} mm wide${
          properties.diameter_m === undefined ? ' (assumed)' : ''
        }, falling ${(100 * (Number.isNaN(slope) ? usualSlope : slope)).toFixed(1)} %${
          properties.slope === undefined
            ? Number.isNaN(slope)
              ? ' (assumed)'
              : ' as the ground between its ends'
            : ''
        }.`,
  );
  return {
    id: pipe.id,
    start,
    outlet: properties.outlet ?? outletAt(ground, end),
    capacityM3PerS,
    blocked,
    notes,
  };
}

function yardDrain(
  ground: OpenGround,
  drain: LocalFeature<'yard-drain' | 'trench-drain'>,
  at: XY,
  pipes: ReadonlyMap<string, PipeRun>,
): { readonly conduit: Conduit; readonly notes: readonly string[] } {
  const { properties } = drain.feature;
  const { id } = drain;
  const inlet = inletNear(ground, at);
  const notes: string[] = [];
  const given = properties.capacity_m3_per_h;
  const givenM3PerS = given === undefined ? Infinity : given / hourS;
  if (properties.pipe !== undefined && !pipes.has(properties.pipe)) {
    notes.push(`It names the drain pipe ${properties.pipe}, which is not in the plan.`);
  }
  const pipe =
    properties.pipe === undefined && properties.outlet === undefined
      ? [...pipes.values()].find(({ start }) => distanceM(start, at) <= inletReachM)
      : pipes.get(properties.pipe ?? '');
  const blocked = properties.blocked === true || pipe?.blocked === true;
  if (properties.blocked === true) notes.push('It is blocked and carries nothing.');
  else if (blocked)
    notes.push(`The drain pipe ${pipe?.id ?? ''} is blocked, so it carries nothing.`);
  const conduit = { id, inlet, blocked, pipe: pipe?.id ?? null };
  if (pipe !== undefined) {
    return {
      conduit: {
        ...conduit,
        outlet: pipe.outlet,
        capacityM3PerS: Math.min(givenM3PerS, pipe.capacityM3PerS),
      },
      notes,
    };
  }
  if (drain.outlet === undefined) {
    notes.push(
      'Nothing tells where it empties, so it carries nothing: give it a pipe or an outlet.',
    );
    return { conduit: { ...conduit, outlet: 'off-map', capacityM3PerS: 0 }, notes };
  }
  const outlet = drain.outlet === 'storm-sewer' ? drain.outlet : outletAt(ground, drain.outlet);
  if (given === undefined && !blocked) {
    notes.push(
      `No capacity is given: a pipe of ${usualDiameterM * 1000} mm ${
        drain.outlet === 'storm-sewer'
          ? `falling ${usualSlope * 100} %`
          : 'along the fall of the ground'
      } is assumed.`,
    );
  }
  const slope =
    drain.outlet === 'storm-sewer' || inlet === -1 || typeof outlet !== 'number'
      ? usualSlope
      : (ground.grid.z[inlet] - ground.grid.z[outlet]) / distanceM(at, drain.outlet);
  const capacityM3PerS =
    given === undefined ? pipeCapacityM3PerS(usualDiameterM, slope) : givenM3PerS;
  if (typeof outlet === 'number' && inlet !== -1 && ground.grid.z[outlet] >= ground.grid.z[inlet]) {
    notes.push('Its outlet is not lower than the drain itself, so it carries nothing.');
    return { conduit: { ...conduit, outlet, capacityM3PerS: 0 }, notes };
  }
  return { conduit: { ...conduit, outlet, capacityM3PerS }, notes };
}

/** A trench drain as a yard drain at the lowest cell of its grate, and the cells of the grate. */
function trenchDrain(
  ground: OpenGround,
  drain: LocalFeature<'trench-drain'>,
  pipes: ReadonlyMap<string, PipeRun>,
): ReturnType<typeof yardDrain> & { readonly bed: readonly number[] } {
  const { grid } = ground;
  const { points } = drain.shape;
  const bed = [...cellsAlong(grid, points, { bothSides: true })].filter(
    (cell) => !Number.isNaN(grid.z[cell]) && openCellAt(ground, cellCentre(grid, cell)) === cell,
  );
  const lowest = bed.reduce((a, b) => (a === -1 || grid.z[b] < grid.z[a] ? b : a), -1);
  const at = lowest === -1 ? points[0] : cellCentre(grid, lowest);
  const found = yardDrain(ground, drain, at, pipes);
  return { ...found, conduit: { ...found.conduit, inlet: lowest }, bed };
}

/** Sinks a grate's bed below all that lies beside it, and its inlet a little farther. */
function sinkBed(grid: Grid, bed: readonly number[], inlet: number, earth: CountedEdits): void {
  const heights = bed.flatMap((cell) => {
    const beside = lowestNeighbour(grid, cell);
    return beside === -1 ? [grid.z[cell]] : [grid.z[cell], grid.z[beside]];
  });
  const levelM = Math.min(...heights) - inletSunkM;
  for (const cell of bed) if (grid.z[cell] > levelM) earth.set(cell, levelM);
  earth.set(inlet, levelM - inletSunkM);
}

function inletNotes({ inlet }: Conduit, notes: readonly string[]): readonly string[] {
  return inlet === -1
    ? [...notes, 'Its inlet lies outside the elevation data, so it takes nothing.']
    : notes;
}

function outletAt(ground: OpenGround, at: XY): PipeOutlet {
  const cell = openCellAt(ground, at);
  return cell === -1 ? 'off-map' : cell;
}

function openHeight(ground: OpenGround, at: XY): number {
  const cell = openCellAt(ground, at);
  return cell === -1 ? NaN : ground.grid.z[cell];
}

/** Down the fall from the open cell at a place, as far as an inlet may be off; -1 outside the data. */
function inletNear(ground: OpenGround, at: XY): number {
  const { grid } = ground;
  let cell = openCellAt(ground, at);
  if (cell === -1) return -1;
  const from = cellCentre(grid, cell);
  for (;;) {
    const next = lowestNeighbour(grid, cell);
    if (next === -1 || !(grid.z[next] < grid.z[cell])) return cell;
    if (distanceM(cellCentre(grid, next), from) > inletReachM) return cell;
    cell = next;
  }
}

/** Sinks an inlet below its lowest neighbour, unless it lies lower than all of them as it is. */
function sink(grid: Grid, cell: number, earth: CountedEdits): void {
  const lowest = lowestNeighbour(grid, cell);
  if (lowest !== -1 && !(grid.z[lowest] > grid.z[cell]))
    earth.set(cell, grid.z[lowest] - inletSunkM);
}

function lowestNeighbour({ width, height, z }: Grid, cell: number): number {
  const row = Math.floor(cell / width);
  const column = cell - row * width;
  let lowest = -1;
  for (let r = Math.max(0, row - 1); r <= Math.min(height - 1, row + 1); r++) {
    for (let c = Math.max(0, column - 1); c <= Math.min(width - 1, column + 1); c++) {
      const at = r * width + c;
      if (at === cell || Number.isNaN(z[at])) continue;
      if (lowest === -1 || z[at] < z[lowest]) lowest = at;
    }
  }
  return lowest;
}

function litresPerSecond(flowM3PerS: number): string {
  return `${(flowM3PerS * 1000).toFixed(1)} l/s`;
}
