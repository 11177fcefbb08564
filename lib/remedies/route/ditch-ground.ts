import { cellCentre, type Grid } from '../../elevation/grid';
import { contains, type Shape } from '../../frame/shapes';
import type { Ground } from '../../ground/ground';
import { groundWithoutBasins } from '../../ground/ground';
import { cellsAlong, cellsInside } from '../../ground/rasterise';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { distanceMap, type DistanceMap } from '../../setback/measure/distance-map';
import { outlineOf, pointDistance } from '../../setback/measure/outline';
import type { RuleSet } from '../../setback/rules/rule';
import { pavingOf, rootsM, zoneM } from '../../siting/leading/trench-ground';

/** Where a way for water may end. */
export type RouteEnd =
  | { readonly to: 'basin'; readonly id: string }
  | { readonly to: 'street' }
  | { readonly to: 'back-swale'; readonly id: string }
  /** Own ground, where the bed comes out. */
  | { readonly to: 'daylight' };

/** The ground as ditches and pipes see it: what may be dug, what it takes, where it ends. */
export interface DitchGround {
  /** As graded, no basins, buildings and kerbs. */
  readonly grid: Grid;
  /** What a metre takes, times that of open lawn; 0 where nothing may be dug. */
  readonly effort: Float32Array<ArrayBuffer>;
  /** The lowest ground within a metre: a bed above it would lose its water there. */
  readonly lowM: Float32Array<ArrayBuffer>;
  /** How far the nearest wall is, metres. */
  readonly wallM: Float32Array<ArrayBuffer>;
  /** For each cell 1 on ground of the own lot, else 0. */
  readonly own: Uint8Array<ArrayBuffer>;
  /** For each cell 1 where an end is so near that the bed need only lie below its own ground, else 0. */
  readonly apron: Uint8Array<ArrayBuffer>;
  /** Index into `ends` by cell, -1 where none is. */
  readonly endOf: Int16Array<ArrayBuffer>;
  readonly ends: readonly (RouteEnd & {
    /** The bed has to lie at this or above when it gets there; the ground of the cell itself when not given. */
    readonly leastBedM?: number;
  })[];
}

/** How far ditches keep from things, metres: common practice, no source. */
const keep = {
  building: 0.6,
  'septic-field': 1.5,
  'septic-tank': 3,
  well: 3,
  wetland: 0,
  trunk: 1,
  line: 0.5,
  wall: 0.5,
} as const;
/** What digging takes there, times that on open lawn. Our choice, no source. */
const times = { nearWall: 3, roots: 2, utility: 6, paving: 4, verge: 1.5 } as const;
const nearWallM = 1.5;
/** The verge before one's own front is looked at as far as this, metres. Our choice, no source. */
const vergeM = 15;
/** Before an end the bed may come up over so much, metres. Our choice, no source. */
const apronM = 2;
/** Ground is looked at this far around for its lowest place, metres. Our choice, no source. */
const lowWithinM = 1;
/** A bed that ends in a basin lies this much over its sill, metres, so that the basin does not stand back in it. Our choice, no source. */
const overSillM = 0.01;

/** Looks at the ground once, for all ways over it. Cost: linear in cells, and in cells near what is kept clear of. */
export function ditchGround(
  elevation: Grid,
  plan: LocalPlan,
  built: Ground,
  ruleSet: RuleSet,
): DitchGround {
  const grid = groundWithoutBasins(elevation, plan);
  const size = grid.z.length;
  const { own, verge, toOthersM } = ownAndVerge(grid, built);
  const effort = new Float32Array(size);
  const lowM = lowestAround(grid);
  for (let cell = 0; cell < size; cell++) {
    // Beside ground that nobody knows it cannot be told whether a bed would hold its water.
    if (Number.isNaN(lowM[cell])) continue;
    effort[cell] = own[cell] === 1 ? 1 : verge[cell] === 1 ? times.verge : 0;
    if (toOthersM(cell) < keep.line) effort[cell] = 0;
  }
  const walls = distances(grid, built.obstacle);
  const wallM = walls.cells.map((cells) => Math.max(0, cells * grid.cellM - grid.cellM / 2));
  makeDearer(grid, plan, ruleSet, wallM, effort);
  closeGround(grid, plan, wallM, effort);
  const { ends, endOf } = endsOf(grid, plan, built, own, effort);
  const toEnd = distances(
    grid,
    Uint8Array.from(endOf, (end) => (end === -1 ? 0 : 1)),
  );
  const apron = Uint8Array.from(toEnd.cells, (cells) => (cells * grid.cellM <= apronM ? 1 : 0));
  return { grid, effort, lowM, wallM, own, apron, endOf, ends };
}

function ownAndVerge(
  grid: Grid,
  built: Ground,
): { own: Uint8Array<ArrayBuffer>; verge: Uint8Array; toOthersM: (cell: number) => number } {
  const { lots, lotOf } = built;
  const isOwn = (lot: number): boolean => lot !== -1 && lots[lot].own;
  const own = Uint8Array.from(lotOf, (lot) => (isOwn(lot) ? 1 : 0));
  const others = distances(
    grid,
    Uint8Array.from(lotOf, (lot) => (lot === -1 || isOwn(lot) ? 0 : 1)),
  );
  const toOwn = distances(grid, own);
  const verge = Uint8Array.from(lotOf, (lot, cell) =>
    lot === -1 && toOwn.cells[cell] * grid.cellM <= vergeM && toOwn.cells[cell] < others.cells[cell]
      ? 1
      : 0,
  );
  return { own, verge, toOthersM: (cell) => (others.cells[cell] - 0.5) * grid.cellM };
}

function makeDearer(
  grid: Grid,
  plan: LocalPlan,
  ruleSet: RuleSet,
  wallM: Float32Array,
  effort: Float32Array,
): void {
  const raise = (feature: LocalFeature, reachM: number, to: number): void => {
    for (const cell of cellsWithin(grid, feature.shape, reachM)) {
      if (effort[cell] > 0) effort[cell] = Math.max(effort[cell], to);
    }
  };
  for (let cell = 0; cell < effort.length; cell++) {
    if (effort[cell] > 0 && wallM[cell] < nearWallM) effort[cell] = times.nearWall;
  }
  for (const tree of plan.of.tree) {
    const canopyM = tree.feature.properties.canopy_radius_m ?? 0;
    raise(tree, Math.max(canopyM, rootsM(tree, ruleSet)), times.roots);
  }
  for (const line of plan.of.utility) raise(line, zoneM(line, ruleSet), times.utility);
  for (const surface of pavingOf(plan)) raise(surface, 0, times.paving);
}

function closeGround(grid: Grid, plan: LocalPlan, wallM: Float32Array, effort: Float32Array): void {
  for (let cell = 0; cell < effort.length; cell++) {
    if (wallM[cell] < keep.building) effort[cell] = 0;
  }
  const close = (feature: LocalFeature, reachM: number): void => {
    for (const cell of cellsWithin(grid, feature.shape, reachM)) effort[cell] = 0;
  };
  for (const kind of ['septic-field', 'septic-tank', 'well', 'wetland', 'wall'] as const) {
    for (const feature of plan.of[kind]) close(feature, keep[kind]);
  }
  for (const tree of plan.of.tree) {
    close(tree, Math.max(keep.trunk, 3 * (tree.feature.properties.trunk_diameter_m ?? 0)));
  }
}

/** Streets are paving on no lot; swales and watercourses that are there already lead off what comes to them. */
function endsOf(
  grid: Grid,
  plan: LocalPlan,
  built: Ground,
  own: Uint8Array,
  effort: Float32Array,
): Pick<DitchGround, 'ends' | 'endOf'> {
  const endOf = new Int16Array(grid.z.length).fill(-1);
  const ends: DitchGround['ends'][number][] = [];
  const add = (cells: Iterable<number>, end: DitchGround['ends'][number]): void => {
    for (const cell of cells) if (effort[cell] > 0 && endOf[cell] === -1) endOf[cell] = ends.length;
    ends.push(end);
  };
  const downM = built.grid.datumM - grid.datumM;
  for (const { id, cells, overflowM } of built.basins) {
    add(cells, { to: 'basin', id, leastBedM: overflowM + downM + overSillM });
  }
  const streets = plan.of.surface.filter(
    ({ shape, feature }) =>
      feature.properties.cover === 'paving' &&
      !plan.of.lot.some((lot) => lot.shape.rings[0].some((at) => contains(shape.rings, at))) &&
      !plan.of.lot.some((lot) => contains(lot.shape.rings, shape.rings[0][0])),
  );
  for (const street of streets) {
    add(
      [...cellsInside(grid, street.shape.rings)].filter((cell) => own[cell] === 0),
      { to: 'street' },
    );
  }
  const ditches = [
    ...plan.of.swale.filter(({ feature }) => feature.properties.in_elevation === true),
    ...plan.of.watercourse,
  ];
  for (const ditch of ditches) {
    add(cellsAlong(grid, ditch.shape.points), { to: 'back-swale', id: ditch.id });
  }
  return { ends, endOf };
}

function distances(grid: Grid, marked: Uint8Array): DistanceMap {
  return distanceMap(marked, grid.width, grid.height);
}

/** Cells whose centres lie within a reach of a shape, polygons filled. */
export function cellsWithin(grid: Grid, shape: Shape, reachM: number): number[] {
  const outline = outlineOf(shape);
  const first = Math.max(0, Math.floor((grid.northM - outline.north - reachM) / grid.cellM));
  const last = Math.min(
    grid.height - 1,
    Math.floor((grid.northM - outline.south + reachM) / grid.cellM),
  );
  const from = Math.max(0, Math.floor((outline.west - reachM - grid.westM) / grid.cellM));
  const to = Math.min(
    grid.width - 1,
    Math.floor((outline.east + reachM - grid.westM) / grid.cellM),
  );
  const found: number[] = [];
  for (let row = first; row <= last; row++) {
    for (let column = from; column <= to; column++) {
      const cell = row * grid.width + column;
      const [x, y] = cellCentre(grid, cell);
      if (pointDistance(outline, x, y) <= reachM) found.push(cell);
    }
  }
  return found;
}

/** The lowest ground within a metre of each cell; `NaN` where any of it is not known. */
function lowestAround(grid: Grid): Float32Array<ArrayBuffer> {
  const reach = Math.max(1, Math.round(lowWithinM / grid.cellM));
  const { width, height, z } = grid;
  const rows = new Float32Array(z.length);
  const low = new Float32Array(z.length);
  for (let cell = 0; cell < z.length; cell++) {
    const column = cell % width;
    let least = z[cell];
    for (let c = Math.max(0, column - reach); c <= Math.min(width - 1, column + reach); c++) {
      least = Math.min(least, z[cell - column + c]);
    }
    rows[cell] = least;
  }
  for (let cell = 0; cell < z.length; cell++) {
    const row = Math.floor(cell / width);
    let least = rows[cell];
    for (let r = Math.max(0, row - reach); r <= Math.min(height - 1, row + reach); r++) {
      least = Math.min(least, rows[cell + (r - row) * width]);
    }
    low[cell] = least;
  }
  return low;
}
