import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { centroid, contains } from '../frame/shapes';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import { setUpBarriers } from './barriers';
import { cutBasin, type BasinForm, type BasinShape } from './basin-form';
import { bearingVector } from '../frame/bearing-vector';
import { bermDefaults, heapBerm } from './berm';
import { layConduits, type Conduit, type Pipe } from './conduits';
import { unmoved, type Edit } from './edit';
import { cellsInside } from './rasterise';
import { regrade, regradeSideSlope } from './regrade';
import { putRelevelled, relevelled, type Relevelled } from './relevelled';
import { correctBySpotHeights, type SpotHeight, type SpotResidual } from './spot-heights';
import { digSwale, swaleDefaults, type SwaleShape } from './swale';
import { featureName } from '../plan/feature-name';

/** One lot of the plan, as the cells that belong to it. */
export interface LotCells {
  readonly id: string;
  readonly name: string;
  /** True for the lot being planned, false for a neighbour. */
  readonly own: boolean;
  readonly cells: Int32Array<ArrayBuffer>;
}

/** The heights that water meets: elevation, and what people built on it. */
export interface Ground {
  /** Heights with buildings raised, walls and kerbs set up, basins cut in. Same cells as the elevation. */
  readonly grid: Grid;
  readonly lots: readonly LotCells[];
  /** For each cell the index in `lots` of the lot it belongs to, or -1. */
  readonly lotOf: Int32Array<ArrayBuffer>;
  /** For each cell 1 where a building or a roof keeps rain from the ground, else 0. */
  readonly sheltered: Uint8Array<ArrayBuffer>;
  /** For each cell 1 where a building stands and no water runs, else 0. */
  readonly obstacle: Uint8Array<ArrayBuffer>;
  readonly basins: readonly BasinForm[];
  /** What each feature did to the ground, in the order in which it was done. */
  readonly edits: readonly Edit[];
  /** How each spot height agrees with the elevation, and with the ground corrected by it. */
  readonly spotResiduals: readonly SpotResidual[];
  /** Where levels stand for the elevation, and how both agree around it. */
  readonly relevelled: readonly Relevelled[];
  /** Ways that water takes below the ground. */
  readonly conduits: readonly Conduit[];
  /** Drain pipes by id. */
  readonly pipes: ReadonlyMap<string, Pipe>;
}

/** How far a building's cells are raised over the highest ground below it, metres: more than any water stands. */
const buildingM = 10;
/** Depth and side slope of a basin where the plan gives none. Common practice, no source. */
export const basinDefaults = { pondingDepthM: 0.15, sideSlope: 3 } as const;

/** Heights stay above this, in the unit of the grid: what runs over them sorts them by their bits as positive numbers. */
const leastHeightM = 1;

/**
 * Makes the ground from elevation and plan. Pure: the same two give the same ground, and leaving a feature
 * out of the plan takes its mark off again, so before and after are two calls.
 *
 * Each step works on the ground that those before it left: spot heights correct the survey; then earth is moved as
 * it would be on site, wide before narrow (graded places, swales, berms, basins); then kerbs and walls are set up on it,
 * buildings stand in it, and inlets of drains are sunk. Within a step features go in the plan's order.
 *
 * @param elevation - heights as read; not modified. Its datum is lowered by whole metres when something is dug below it.
 * @param plan - in the same local frame as the grid.
 * Limits: public elevation shows bare earth with buildings taken off and smoothed over; kerbs may already
 *   be in it, and setting them up again makes them higher than they are, unless the plan says `in_elevation`.
 */
export function ground(elevation: Grid, plan: LocalPlan): Ground {
  const soFar = { ...elevation, z: elevation.z.slice() };
  return builtOn(soFar, elevation.shaken?.from ?? elevation, plan, outlined(elevation, plan));
}

/**
 * The same plan built on other heights of the same cells.
 *
 * @param before - ground of the plan on any heights; which cells lie in what outline is taken from it, not copied.
 * @param elevation - its heights are taken over and changed.
 * @param read - the elevation with its heights as read.
 */
export function groundAgain(before: Ground, elevation: Grid, plan: LocalPlan, read: Grid): Ground {
  return builtOn(elevation, read, plan, before);
}

/** What of a ground hangs on outlines, not on heights. */
type Outlined = Pick<Ground, 'lots' | 'lotOf' | 'sheltered' | 'obstacle'>;

function outlined(grid: Grid, plan: LocalPlan): Outlined {
  const obstacle = new Uint8Array(grid.z.length);
  for (const { shape } of plan.of.building) {
    for (const cell of cellsInside(grid, shape.rings)) obstacle[cell] = 1;
  }
  const sheltered = obstacle.slice();
  for (const { shape } of plan.of.roof) {
    for (const cell of cellsInside(grid, shape.rings)) sheltered[cell] = 1;
  }
  const lotOf = new Int32Array(grid.z.length).fill(-1);
  const lots = plan.of.lot.map((lot, index): LotCells => {
    // Where outlines overlap, the lot that comes first in the plan keeps the cell.
    const cells = cellsInside(grid, lot.shape.rings).filter((cell) => lotOf[cell] === -1);
    for (const cell of cells) lotOf[cell] = index;
    return {
      id: lot.id,
      name: featureName(lot.feature),
      own: lot.feature.properties.own,
      cells,
    };
  });
  return { lots, lotOf, sheltered, obstacle };
}

/** @param grid - heights that are changed. @param read - those as read. */
function builtOn(grid: Grid, read: Grid, plan: LocalPlan, within: Outlined): Ground {
  const { lots, lotOf, sheltered, obstacle } = within;
  const { z } = grid;
  const { relevelled: replaced, ...spots } = setLevels(grid, read, plan);
  const earthworks = moveEarth(grid, plan);
  const barriers = setUpBarriers(grid, plan);
  const buildings = plan.of.building.map((building) => {
    raise(z, cellsInside(grid, building.shape.rings));
    return unmoved(building.id, 'building');
  });
  const { conduits, pipes, edits: inlets } = layConduits({ grid, obstacle }, plan);
  const downM = lowerDatum(z);
  return {
    grid: { ...grid, datumM: grid.datumM - downM },
    lots,
    lotOf,
    sheltered,
    obstacle,
    basins: earthworks.basins.map((form) => ({
      ...form,
      rimM: form.rimM + downM,
      overflowM: form.overflowM + downM,
      floorM: form.floorM + downM,
    })),
    relevelled: replaced,
    edits: [...spots.edits, ...earthworks.edits, ...barriers, ...buildings, ...inlets],
    spotResiduals: spots.residuals,
    conduits,
    pipes,
  };
}

/**
 * The ground that a basin is dug in: elevation with spot heights, graded places, swales, berms and those basins that
 * come before it in the plan; no kerbs, walls and buildings.
 *
 * @param elevation - heights as read; not modified.
 */
export function groundBeforeBasin(elevation: Grid, plan: LocalPlan, id: string): Grid {
  const soFar: Grid = { ...elevation, z: elevation.z.slice() };
  setLevels(soFar, elevation, plan);
  moveEarth(soFar, plan, id);
  return soFar;
}

/**
 * The ground as it is when all earth has been moved: elevation with spot heights, graded places, swales, berms and basins; no
 * kerbs, walls and buildings.
 *
 * @param elevation - heights as read; not modified.
 */
export function finishedGround(elevation: Grid, plan: LocalPlan): Grid {
  const soFar: Grid = { ...elevation, z: elevation.z.slice() };
  setLevels(soFar, elevation, plan);
  moveEarth(soFar, plan);
  return soFar;
}

/** What makes the ground before any basin, and what besides where levels replace the elevation. */
const bareFrom = ['spot-height', 'regrade', 'swale', 'berm'] as const;
const relevelledFrom = [
  'relevelled-ground',
  'puddle-edge',
  'level-line',
  'break-line',
  'wall',
  'kerb',
] as const;

const bare = new WeakMap<Grid, { readonly made: readonly unknown[]; readonly grid: Grid }>();

/**
 * The ground before any basin is dug: elevation with spot heights, graded places, swales and berms; no kerbs, walls and
 * buildings. Rules, sites and design judge the place of a basin by it.
 *
 * @param elevation - heights as read; not modified, and itself the answer where the plan changes none of them.
 * Cost: O(1) for the same elevation and the same features as the last time, so that a basin can be dragged on it.
 */
export function groundWithoutBasins(elevation: Grid, plan: LocalPlan): Grid {
  const { of } = plan;
  const levels = of['relevelled-ground'].length === 0 ? [] : relevelledFrom;
  const made = [...bareFrom, ...levels].flatMap((kind) => of[kind].map(({ feature }) => feature));
  if (made.length === 0) return elevation;
  const last = bare.get(elevation);
  if (last?.made.length === made.length && last.made.every((each, i) => each === made[i])) {
    return last.grid;
  }
  const grid: Grid = { ...elevation, z: elevation.z.slice() };
  setLevels(grid, elevation, plan);
  moveEarth(grid, { ...plan, of: { ...of, basin: [] } });
  bare.set(elevation, { made, grid });
  return grid;
}

/** Puts the plan's levels for the elevation where it says so, and corrects the rest by the others. */
function setLevels(
  grid: Grid,
  read: Grid,
  plan: LocalPlan,
): ReturnType<typeof correctBySpotHeights> & { readonly relevelled: readonly Relevelled[] } {
  const replaced = relevelled(read, plan);
  const used = new Set(replaced.flatMap((each) => each.used));
  const spots = spotHeights(plan).filter(({ id }) => !used.has(id));
  const before = replaced.map(({ cells }) => Float32Array.from(cells, (cell) => grid.z[cell]));
  const corrected = correctBySpotHeights(grid, spots);
  replaced.forEach((each, i) => {
    putRelevelled(grid, read, each, before[i]);
  });
  return {
    ...corrected,
    edits: [...corrected.edits, ...leftOut(plan, used)],
    relevelled: replaced,
  };
}

/** Levels that say nothing of the elevation's own heights, and why. */
function leftOut(plan: LocalPlan, used: ReadonlySet<string>): Edit[] {
  if (plan.plan.lotfall.elevation?.of_levels === true) return [];
  return plan.of['spot-height'].flatMap(({ id, feature: { properties } }) => {
    if (properties.elevation_m !== undefined || used.has(id)) return [];
    const note =
      properties.drop_m === undefined && properties.also === undefined
        ? 'It has neither a height nor a drop below a mark and corrects nothing: give elevation_m or drop_m.'
        : 'Its drop below a mark says nothing of the elevation’s own zero, so it corrects nothing: give elevation_m, or draw an outline of relevelled ground around such levels.';
    return [unmoved(id, 'spot-height', [note])];
  });
}

function spotHeights(plan: LocalPlan): SpotHeight[] {
  // The ground goes through them already.
  if (plan.plan.lotfall.elevation?.of_levels === true) return [];
  return plan.of['spot-height'].flatMap(({ id, shape, feature: { properties } }) => {
    const { elevation_m: elevationM, influence_m: influenceM } = properties;
    // A drop below a mark says nothing of the elevation's own zero.
    if (elevationM === undefined) return [];
    return [{ id, at: shape.at, elevationM, ...(influenceM === undefined ? {} : { influenceM }) }];
  });
}

/** A swale of a plan as it is to be dug. */
export function swaleShape(
  plan: LocalPlan,
  { id, shape, feature }: LocalPlan['of']['swale'][number],
): SwaleShape {
  const { width_m, depth_m, side_slope, enforce_fall, bed_below_m, least_fall } =
    feature.properties;
  return {
    id,
    points: shape.points,
    widthM: width_m ?? swaleDefaults.widthM,
    depthM: depth_m ?? swaleDefaults.depthM,
    sideSlope: side_slope ?? swaleDefaults.sideSlope,
    enforceFall: enforce_fall ?? true,
    isLedOn: endsInBasin(plan, shape.points),
    ...(bed_below_m === undefined ? {} : { bedBelowM: bed_below_m }),
    ...(least_fall === undefined ? {} : { leastFall: least_fall }),
  };
}

/** Graded places, swales, berms and basins, one after the other; basins up to the one named, which is left out. */
function moveEarth(
  grid: Grid,
  plan: LocalPlan,
  upToBasin?: string,
): { edits: Edit[]; basins: BasinForm[] } {
  const edits: Edit[] = [];
  for (const place of plan.of.regrade.filter(isToBuild)) edits.push(gradePlace(grid, plan, place));
  for (const swale of plan.of.swale.filter(isToBuild)) {
    edits.push(digSwale(grid, swaleShape(plan, swale)));
  }
  for (const { id, shape, feature } of plan.of.berm.filter(isToBuild)) {
    const { width_m, height_m, side_slope } = feature.properties;
    edits.push(
      heapBerm(grid, {
        id,
        points: shape.points,
        widthM: width_m ?? bermDefaults.widthM,
        heightM: height_m ?? bermDefaults.heightM,
        sideSlope: side_slope ?? bermDefaults.sideSlope,
      }),
    );
  }
  const basins: BasinForm[] = [];
  for (const basin of plan.of.basin) {
    if (basin.id === upToBasin) break;
    const form = cutBasin(grid, grid.z, basinShape(basin));
    if ('notDug' in form) {
      edits.push(unmoved(basin.id, 'basin', [form.notDug]));
      continue;
    }
    basins.push(form);
    const { id, cutM3, fillM3, notes } = form;
    edits.push({ id, kind: 'basin', cutM3, fillM3, notes });
  }
  return { edits, basins };
}

/** A basin of the plan as it is to be built, with the usual figures where the plan gives none. */
export function basinShape({ id, shape, feature, overflow }: LocalFeature<'basin'>): BasinShape {
  const { ponding_depth_m, side_slope, freeboard_m, overflow_width_m } = feature.properties;
  return {
    id,
    rim: shape.rings[0],
    pondingDepthM: ponding_depth_m ?? basinDefaults.pondingDepthM,
    sideSlope: side_slope ?? basinDefaults.sideSlope,
    ...(overflow === undefined ? {} : { overflow }),
    ...(freeboard_m === undefined ? {} : { freeboardM: freeboard_m }),
    ...(overflow_width_m === undefined ? {} : { overflowWidthM: overflow_width_m }),
  };
}

/** Whether an end of a line lies in a basin: what is dug to it runs into that. */
export function endsInBasin({ of }: LocalPlan, points: readonly XY[]): boolean {
  const ends = [points[0], points[points.length - 1]];
  return of.basin.some(({ shape }) => ends.some((at) => contains(shape.rings, at)));
}

function isToBuild({ feature }: LocalFeature<'regrade' | 'swale' | 'berm'>): boolean {
  return feature.properties.in_elevation !== true;
}

function gradePlace(grid: Grid, plan: LocalPlan, place: LocalFeature<'regrade'>): Edit {
  const { elevation_m, slope, bearing_deg, side_slope } = place.feature.properties;
  const { rings } = place.shape;
  return regrade(grid, {
    id: place.id,
    rings,
    sideSlope: side_slope ?? regradeSideSlope,
    ...(elevation_m === undefined ? {} : { centreM: elevation_m - grid.datumM }),
    ...(slope === undefined ? {} : { slope }),
    ...(bearing_deg === undefined
      ? {}
      : { fallsTo: bearingVector(plan.frame, centroid(rings), bearing_deg) }),
  });
}

/** Lifts heights by whole metres until all are positive; returns by how much, for the datum to be lowered by. */
function lowerDatum(z: Float32Array): number {
  let lowest = Infinity;
  for (let cell = 0; cell < z.length; cell++) if (z[cell] < lowest) lowest = z[cell];
  if (!(lowest < leastHeightM)) return 0;
  const byM = Math.ceil(1 - lowest);
  for (let cell = 0; cell < z.length; cell++) z[cell] += byM;
  return byM;
}

/** A flat top well above the ground, so that nothing pools in it and everything passes round it. */
function raise(z: Float32Array, cells: Int32Array): void {
  let highest = -Infinity;
  for (const cell of cells) if (z[cell] > highest) highest = z[cell];
  // Where the data has a hole below the building, the building still stands.
  const topM = (highest === -Infinity ? 1 : highest) + buildingM;
  for (const cell of cells) z[cell] = topM;
}
