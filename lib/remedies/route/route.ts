import { cellCentre } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import type { DitchGround, RouteEnd } from './ditch-ground';
import { Heap } from './heap';

/** What is dug: a swale, or a trench for a pipe. */
export interface DitchKind {
  /** Of the bed below the lowest ground beside it, metres, everywhere but where it runs out. */
  readonly leastDepthM: number;
  /** Of the bed below the ground at most, metres. */
  readonly mostDepthM: number;
  /** Fall of the bed, for one of run, this near to walls and elsewhere. */
  readonly fall: (wallM: number) => number;
  /** Earth that a metre takes out at a depth, m3. */
  readonly sectionM2: (depthM: number) => number;
  /** How far it may run out to daylight, metres. */
  readonly runOutM: number;
  /** Where it may end. */
  readonly endsIn: (end: RouteEnd) => boolean;
}

/** A way for water to one end, the bed at each of its cells. */
export interface CellRoute {
  readonly end: RouteEnd;
  readonly cells: readonly number[];
  /** Level of the bed at each, in the unit of the grid. */
  readonly bedM: readonly number[];
  /** How many of the cells at its end belong to the run-out, where the bed is less deep. */
  readonly runOut: number;
  /** Earth to take out, with what dearer ground adds, m3. */
  readonly cost: number;
}

/** Where a way comes out on own ground, by what becomes of its water there; `null` where it must not. */
export type DaylightClass = (cell: number) => string | null;

/** Beds closer together than this are one, metres. Our choice, no source. */
const sameBedM = 0.01;
/** What a metre takes beside its earth, m3 of earth. Our choice, no source. */
const metreM3 = 0.1;

/** Columns, rows, length, and the two cells that a knight's move passes between. */
const moves = [-2, -1, 0, 1, 2].flatMap((dx) =>
  [-2, -1, 0, 1, 2].flatMap((dy) => {
    const isNear = Math.max(Math.abs(dx), Math.abs(dy)) === 1;
    const isKnight = Math.abs(dx * dy) === 2;
    if (!isNear && !isKnight) return [];
    const over: readonly (readonly [number, number])[] = isKnight
      ? [
          [Math.trunc(dx / 2), Math.trunc(dy / 2)],
          [Math.sign(dx), Math.sign(dy)],
        ]
      : [];
    return [{ dx, dy, length: Math.hypot(dx, dy), over }];
  }),
);

/**
 * The cheapest way for water from a place to every end at once.
 *
 * Labels are settled in the order of their cost, each a cell and a level of the bed there. Of two labels at one cell the later
 * is dearer, so it is of use only where its bed is higher: one level for each cell tells. The bed falls by its
 * fall with every step, and deeper where the ground beside it is low. Out on own ground it runs down the fall of the ground,
 * no depth asked for, until it comes out.
 *
 * @param from - cell that the water comes from, and the level of the bed there at most.
 * @param daylight - what becomes of water that comes out at a cell: the cheapest way of each class is given.
 * Cost: labels times the logarithm of their number; about a dozen labels a cell where the bed can lie at many levels.
 */
export function cheapestRoutes(
  ground: DitchGround,
  kind: DitchKind,
  from: { readonly cell: number; readonly bedM: number },
  daylight: DaylightClass,
): CellRoute[] {
  const search = new Search(ground, kind, daylight);
  search.run(from);
  return search.found();
}

class Search {
  readonly #ground: DitchGround;
  readonly #kind: DitchKind;
  readonly #daylight: DaylightClass;
  readonly #cell: number[] = [];
  readonly #bedM: number[] = [];
  readonly #cost: number[] = [];
  readonly #before: number[] = [];
  readonly #heap = new Heap((label) => this.#cost[label]);
  /** The highest bed settled at each cell. */
  readonly #settledM: Float64Array;
  readonly #reached = new Map<string, CellRoute>();

  constructor(ground: DitchGround, kind: DitchKind, daylight: DaylightClass) {
    this.#ground = ground;
    this.#kind = kind;
    this.#daylight = daylight;
    this.#settledM = new Float64Array(ground.grid.z.length).fill(-Infinity);
  }

  found(): CellRoute[] {
    return [...this.#reached.values()];
  }

  run({ cell, bedM }: { readonly cell: number; readonly bedM: number }): void {
    this.#put(cell, bedM, 0, -1);
    for (;;) {
      const label = this.#heap.pop();
      if (label === -1) return;
      const at = this.#cell[label];
      if (this.#bedM[label] <= this.#settledM[at] + (label === 0 ? 0 : sameBedM)) continue;
      this.#settledM[at] = this.#bedM[label];
      if (this.#end(label)) continue;
      this.#runOut(label);
      this.#spread(label);
    }
  }

  #put(cell: number, bedM: number, cost: number, before: number): void {
    const label = this.#cell.push(cell) - 1;
    this.#bedM.push(bedM);
    this.#cost.push(cost);
    this.#before.push(before);
    this.#heap.push(label);
  }

  /** Whether the way ends at a label; keeps the first, which is the cheapest, of each end. */
  #end(label: number): boolean {
    const { endOf, ends, grid } = this.#ground;
    const cell = this.#cell[label];
    const at = endOf[cell];
    if (at === -1 || !this.#kind.endsIn(ends[at])) return false;
    const { leastBedM = grid.z[cell], ...end } = ends[at];
    if (this.#bedM[label] < leastBedM) return true;
    const key = `end ${at}`;
    if (!this.#reached.has(key)) this.#reached.set(key, this.#route(label, end));
    return true;
  }

  #spread(label: number): void {
    const { grid, effort, endOf, ends } = this.#ground;
    const { width, height } = grid;
    const cell = this.#cell[label];
    const row = Math.floor(cell / width);
    const column = cell - row * width;
    for (const { dx, dy, length, over } of moves) {
      const c = column + dx;
      const r = row + dy;
      if (c < 0 || r < 0 || c >= width || r >= height) continue;
      const next = cell + dy * width + dx;
      if (effort[next] === 0) continue;
      if (over.some(([x, y]) => effort[cell + y * width + x] === 0)) continue;
      const isEnd = endOf[next] !== -1 && this.#kind.endsIn(ends[endOf[next]]);
      const step = this.#step(label, next, length * grid.cellM, isEnd);
      if (step === null || step.bedM <= this.#settledM[next] + sameBedM) continue;
      this.#put(next, step.bedM, step.cost, label);
    }
  }

  /** The bed one step on, and what it costs to get there; `null` where it would lie too deep. */
  #step(
    label: number,
    next: number,
    lengthM: number,
    isOut: boolean,
  ): { bedM: number; cost: number } | null {
    const { grid, lowM, wallM, effort, apron } = this.#ground;
    const kind = this.#kind;
    const cell = this.#cell[label];
    const belowM = apron[next] === 1 ? grid.z[next] : lowM[next] - kind.leastDepthM;
    const fall = Math.max(kind.fall(wallM[cell]), kind.fall(wallM[next]));
    const fallen = this.#bedM[label] - fall * lengthM;
    const bedM = isOut ? fallen : Math.min(fallen, belowM);
    const depthM = grid.z[next] - bedM;
    // Also where the ground is not known, which is no number.
    if (!(depthM <= kind.mostDepthM)) return null;
    const earth = kind.sectionM2(Math.max(0, depthM)) + metreM3;
    return { bedM, cost: this.#cost[label] + lengthM * earth * effort[next] };
  }

  /** Down the fall of the own ground from a label until the bed comes out. */
  #runOut(label: number): void {
    const { grid, effort, own, wallM } = this.#ground;
    const kind = this.#kind;
    if (!kind.endsIn({ to: 'daylight' })) return;
    let cell = this.#cell[label];
    let bedM = this.#bedM[label];
    if (own[cell] === 0) return;
    const cells: number[] = [];
    const beds: number[] = [];
    let cost = this.#cost[label];
    let lengthM = 0;
    while (bedM < grid.z[cell]) {
      const [next, cells1] = lowestBeside(grid, cell);
      if (next === -1 || !(grid.z[next] < grid.z[cell]) || effort[next] === 0 || own[next] === 0)
        return;
      const stepM = cells1 * grid.cellM;
      lengthM += stepM;
      if (lengthM > kind.runOutM) return;
      bedM -= Math.max(kind.fall(wallM[cell]), kind.fall(wallM[next])) * stepM;
      cost += stepM * (kind.sectionM2(Math.max(0, grid.z[next] - bedM)) + metreM3) * effort[next];
      cell = next;
      cells.push(cell);
      beds.push(bedM);
    }
    const end = this.#daylight(cell);
    if (end === null) return;
    const known = this.#reached.get(end);
    if (known !== undefined && known.cost <= cost) return;
    const route = this.#route(label, { to: 'daylight' });
    // Water comes out where the bed meets the ground, not above it.
    if (beds.length > 0) beds[beds.length - 1] = grid.z[cell];
    this.#reached.set(end, {
      ...route,
      cells: [...route.cells, ...cells],
      bedM: [...route.bedM, ...beds],
      runOut: cells.length,
      cost,
    });
  }

  #route(label: number, end: RouteEnd): CellRoute {
    const cells: number[] = [];
    const bedM: number[] = [];
    for (let at = label; at !== -1; at = this.#before[at]) {
      cells.push(this.#cell[at]);
      bedM.push(this.#bedM[at]);
    }
    return {
      end,
      cells: cells.reverse(),
      bedM: bedM.reverse(),
      runOut: 0,
      cost: this.#cost[label],
    };
  }
}

/** The lowest of the eight cells around one, and how many cells off it is; -1 at the edge. */
function lowestBeside(
  { width, height, z }: DitchGround['grid'],
  cell: number,
): readonly [cell: number, length: number] {
  const row = Math.floor(cell / width);
  const column = cell - row * width;
  if (row === 0 || column === 0 || row === height - 1 || column === width - 1) return [-1, 0];
  let best = -1;
  let steepest = -Infinity;
  let length = 0;
  for (let dy = -1; dy <= 1; dy++) {
    for (let dx = -1; dx <= 1; dx++) {
      if (dx === 0 && dy === 0) continue;
      const next = cell + dy * width + dx;
      const away = Math.hypot(dx, dy);
      const fall = (z[cell] - z[next]) / away;
      if (fall > steepest) [best, steepest, length] = [next, fall, away];
    }
  }
  return [best, length];
}

/** A way as it is set out: corners and the bed at each. */
export interface SetOut {
  readonly points: readonly XY[];
  readonly bedM: readonly number[];
}

/** How far below the lowest ground beside it a bed lies where corners are cut, metres. Our choice, no source. */
const stillBelowM = 0.03;

/**
 * Cuts the corners of a way, cell by cell as it was found, where a straight line keeps to ground that may be dug, falls
 * as it should and stays below the ground beside it.
 */
export function setOut(ground: DitchGround, kind: DitchKind, route: CellRoute): SetOut {
  const { grid } = ground;
  const { cells, bedM, runOut } = route;
  const tail = cells.length - 1 - runOut;
  const kept = [0];
  while (kept[kept.length - 1] < cells.length - 1) {
    const from = kept[kept.length - 1];
    let to = cells.length - 1;
    while (to > from + 1 && !isStraight(ground, kind, route, from, to, tail)) to--;
    kept.push(to);
  }
  return {
    points: kept.map((at): XY => cellCentre(grid, cells[at])),
    bedM: kept.map((at) => bedM[at]),
  };
}

function isStraight(
  { grid, effort, lowM, wallM, apron }: DitchGround,
  kind: DitchKind,
  { cells, bedM }: CellRoute,
  from: number,
  to: number,
  tail: number,
): boolean {
  const [ax, ay] = cellCentre(grid, cells[from]);
  const [bx, by] = cellCentre(grid, cells[to]);
  const lengthM = Math.hypot(bx - ax, by - ay);
  const slope = (bedM[from] - bedM[to]) / lengthM;
  const steps = Math.ceil(lengthM / (grid.cellM / 2));
  // Where the bed comes out it need not lie below the ground any more.
  const outM = to > tail ? kind.runOutM : 0;
  for (let step = 0; step <= steps; step++) {
    const t = step / steps;
    const column = Math.floor((ax + t * (bx - ax) - grid.westM) / grid.cellM);
    const row = Math.floor((grid.northM - ay - t * (by - ay)) / grid.cellM);
    const cell = row * grid.width + column;
    const bed = bedM[from] + t * (bedM[to] - bedM[from]);
    if (effort[cell] === 0 || slope < kind.fall(wallM[cell]) - 1e-6) return false;
    if (grid.z[cell] - bed > kind.mostDepthM) return false;
    const isOut = (1 - t) * lengthM <= outM || apron[cell] === 1;
    if (bed > (isOut ? grid.z[cell] + stillBelowM : lowM[cell] - stillBelowM)) return false;
  }
  return true;
}
