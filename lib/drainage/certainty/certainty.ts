import type { Grid } from '../../elevation/grid';
import { expectOf, throwIfCancelled, type Progress } from '../../errors';
import { ground, groundAgain, type Ground } from '../../ground/ground';
import type { LocalPlan } from '../../plan/local-plan';
import { targetWithPonds } from '../terrain/contributing-share';
import { emptyTallies, type Tallied, type Tallies } from './certainty-tallies';
import { addError, errorLiftM, shakenGrid, type ErrorModel } from '../height-error/error-field';
import { listedLowSpots, worthListing } from '../answer/listed-low-spots';
import type { LowSpot } from '../answer/low-spots';
import { pourStorm, type StormPools } from '../storm/pour-storm';
import { roofWater, type RoofWater } from '../storm/roof-water';
import { makeRouting, type Routing } from '../terrain/routing';
import { layStorm, letStand, type LaidStorm } from '../storm/storm-on-ground';
import { shareSweep } from '../terrain/share-sweep';
import { atOnce } from '../steps';
import { terrainSteps, type BareTerrain, type Terrain } from '../terrain/terrain';
import { wetWallM } from '../answer/water-at-building';
import { waterLevels } from '../storm/water-surface';
import { Workspace } from '../terrain/workspace';

/** Water deeper than this counts as standing on a cell, metres. Our choice, no source. */
export const standsFromM = 0.01;
/** A low spot is there when one of the surface's covers this part of its cells and holds this part of its volume. Our choice, no source. */
export const sameSpotShare = 0.5;

/** A low spot of the ground as it was read, looked for again on every surface. */
export type StudiedSpot = Pick<LowSpot, 'areaM2' | 'volumeM3' | 'cells'> & { readonly id: string };

/** What repeated runs share. Belongs to one thread: its buffers are written to by every run. */
export interface CertaintyStudy {
  readonly elevation: Grid;
  readonly plan: LocalPlan;
  readonly errors: ErrorModel;
  readonly seed: number;
  /** The plan built on the elevation without error. */
  readonly built: Ground;
  readonly laid: Pick<LaidStorm, 'runOffM' | 'roofRunOffM' | 'durationH'>;
  readonly spots: readonly StudiedSpot[];
  /** Ids of basins and buildings, in the order of the tallies. */
  readonly basins: readonly string[];
  readonly buildings: readonly string[];
  /** What the same counting says of the elevation without error: one row. */
  readonly baseline: Tallies;
  readonly liftM: number;
  readonly workspace: Workspace;
}

export interface CertaintyInput {
  readonly elevation: Grid;
  readonly plan: LocalPlan;
  readonly rainMm: number;
  readonly errors: ErrorModel;
  readonly seed: number;
}

/** Looks at the ground as it was read and lays the storm; what does not change from surface to surface. Cost: one run. */
export function prepareCertainty(input: CertaintyInput): CertaintyStudy {
  const { elevation, plan, rainMm, errors, seed } = input;
  const workspace = new Workspace();
  const built = ground(elevation, plan);
  const terrain = terrainOf(built, workspace);
  const spots = listedLowSpots(built, terrain).map(({ key, areaM2, volumeM3, cells }) => ({
    id: key,
    areaM2,
    volumeM3,
    cells,
  }));
  const laid = layStorm(built, plan, rainMm);
  const study = {
    elevation,
    plan,
    errors,
    seed,
    built,
    laid,
    spots,
    basins: built.basins.map(({ id }) => id),
    buildings: plan.of.building.map(({ id }) => id),
    liftM: errorLiftM(errors),
    workspace,
  };
  const baseline = emptyTallies(talliedBy(study), Int32Array.of(0));
  tally(study, built, terrain, baseline, 0);
  return { ...study, baseline };
}

function terrainOf({ grid: { z, width, height } }: Ground, workspace: Workspace): Terrain {
  return atOnce(terrainSteps(z, width, height, workspace));
}

function talliedBy(study: Omit<CertaintyStudy, 'baseline'>): Tallied {
  return {
    cells: study.elevation.z.length,
    cellM2: study.elevation.cellM ** 2,
    spots: study.spots.length,
    basins: study.basins.length,
    buildings: study.buildings.length,
  };
}

/** Which surfaces to run. */
export interface CertaintyRange {
  readonly from: number;
  /** Up to but without. */
  readonly to: number;
  /** Checked before each surface. */
  readonly signal?: AbortSignal;
  readonly onProgress?: Progress;
}

/**
 * Repeats ground, low spots and storm over equally likely surfaces (the elevation with an error added that its stated accuracy allows) and
 * counts what comes out.
 *
 * A surface depends on seed and index alone, so ranges may be run in any order, by any number of threads, and merged.
 * Everything that the plan builds is built anew on each surface: a basin is as level and as deep as drawn on all of them.
 *
 * Cost: one run of ground, terrain, routing and storm for each surface.
 * Limits: the error is added to heights that hold one error already, so that surfaces are rougher than the ground: small
 *   puddles are overstated.
 * Source: realisations of a correlated error, filled and counted by cell: Lindsay and Creed (2006), Computers &
 *   Geosciences 32, 1192 (abstract seen in a copy).
 */
export function certainty(study: CertaintyStudy, range: CertaintyRange): Tallies {
  const { from, to, signal, onProgress } = range;
  expectOf(Number.isInteger(from) && Number.isInteger(to) && from >= 0 && to >= from, {
    code: 'surfaces-range',
    where: 'certainty',
    problem: `surfaces ${from} to ${to} were asked for`,
    remedy: 'count upwards from 0 in whole numbers',
  });
  const { elevation, plan, errors, seed, liftM, workspace } = study;
  const indices = Int32Array.from({ length: to - from }, (_, i) => from + i);
  const tallies = emptyTallies(talliedBy(study), indices);
  const z = workspace.float32('certainty surface', elevation.z.length);
  for (let row = 0; row < indices.length; row++) {
    throwIfCancelled(signal);
    onProgress?.(row / indices.length, 'Trying equally likely surfaces');
    addError(elevation, errors, { seed, index: indices[row] }, z, workspace, liftM);
    const surface = shakenGrid(elevation, errors, z, liftM);
    const built = groundAgain(study.built, surface, plan, elevation);
    tally(study, built, terrainOf(built, workspace), tallies, row);
  }
  onProgress?.(1, 'Trying equally likely surfaces');
  return tallies;
}

/** Counts one surface. */
function tally(
  study: Omit<CertaintyStudy, 'baseline'>,
  built: Ground,
  terrain: Terrain,
  tallies: Tallies,
  row: number,
): void {
  const { plan, laid, workspace } = study;
  const { catchment, tree, z } = terrain;
  const cellM2 = built.grid.cellM * built.grid.cellM;
  tallySpots(study.spots, terrain, cellM2, tallies, row);

  const putDown = workspace.float64('certainty put down', z.length);
  putDown.set(laid.runOffM);
  const roofs = roofWater(built, plan);
  const routing = makeRouting(terrain, cellM2, brimful(terrain, laid.runOffM));
  const { settled } = letStand({ ground: built, routing, cellM2 }, plan, laid, putDown, roofs);
  // Cells lower than this stand in water, by catchment.
  const wetBelow = workspace.float32('certainty wet below', tree.pits + 1);
  const levels = waterLevels(terrain, settled.pools);
  for (let pit = 0; pit <= tree.pits; pit++) wetBelow[pit] = Math.max(0, levels[pit] - standsFromM);

  const isListed = listedRoots(terrain, cellM2);
  const isWet = (cell: number): boolean =>
    z[cell] < wetBelow[catchment[cell]] && isListed[tree.root[catchment[cell]]] === 1;
  plan.of.building.forEach(({ shape }, i) => {
    const at = row * tallies.of.buildings + i;
    tallies.wetWallM[at] = wetWallM(built, shape.rings[0], isWet);
  });
  countWet(terrain, wetBelow, tallies.wet);
  tallyBasins(study, built, routing, { roofs, pools: settled.pools }, tallies, row);
}

/**
 * Outermost low spots that fill up when each cell's water goes the steepest way: taken as one water at once, so that the storm
 * need not be run again to find them.
 */
function brimful(terrain: Terrain, runOffM: Float64Array): readonly number[] {
  const { tree, catchment, workspace } = terrain;
  const inflow = workspace.float64('certainty inflow', tree.pits + 1).fill(0);
  for (let cell = 0; cell < catchment.length; cell++) inflow[catchment[cell]] += runOffM[cell];
  const { count, node, full } = pourStorm(terrain, inflow);
  const found: number[] = [];
  for (let pool = 0; pool < count; pool++) {
    if (full[pool] === 1 && tree.isRoot[node[pool]] === 1) found.push(node[pool]);
  }
  return found;
}

/** One more for each cell that stands in water. */
function countWet({ z, catchment }: BareTerrain, wetBelow: Float32Array, wet: Uint16Array): void {
  // Positive floats sort like their bits, `NaN` above all: no branch, which would often be guessed wrong.
  const bits = new Int32Array(z.buffer, z.byteOffset, z.length);
  const below = new Int32Array(wetBelow.buffer, wetBelow.byteOffset, wetBelow.length);
  for (let cell = 0; cell < bits.length; cell++) {
    wet[cell] += (bits[cell] - below[catchment[cell]]) >>> 31;
  }
}

/** 1 for the outermost low spots that are deep and wide enough to be listed, by node. */
function listedRoots({ z, tree, cellsBelow, workspace }: BareTerrain, cellM2: number): Uint8Array {
  const { minDepthM, minAreaM2 } = worthListing;
  const isListed = workspace.uint8('certainty listed', tree.nodes).fill(0);
  for (let pit = 1; pit <= tree.pits; pit++) {
    const root = tree.root[pit];
    const isDeep = tree.spill[root] - z[tree.pitCells[pit]] >= minDepthM;
    if (isDeep && cellsBelow[root] * cellM2 >= minAreaM2) isListed[root] = 1;
  }
  return isListed;
}

/** A cell drains to a basin when at least this share of its water comes there. */
const mostlyShare = 0.5;

/** What drains to each basin, and whether the storm fills it; one more for each cell that drains to any. */
function tallyBasins(
  { basins, workspace }: Omit<CertaintyStudy, 'baseline'>,
  { basins: forms, sheltered }: Ground,
  routing: Routing,
  { roofs, pools }: { roofs: RoofWater; pools: StormPools },
  tallies: Tallies,
  row: number,
): void {
  const { cellM2 } = tallies.of;
  const { catchment, z } = routing.terrain;
  const share = workspace.float64('certainty share', z.length);
  // all by topography; what a hollow too large for one water spills beyond its brim is left out
  const passes = new Float64Array(routing.ponds.count + 1).fill(1);
  const otherwise = new Float64Array(routing.ponds.count + 1);
  const reaches = workspace.uint8('certainty reaches', z.length).fill(0);
  for (const { id, cells } of forms) {
    const at = row * basins.length + basins.indexOf(id);
    shareSweep(routing, targetWithPonds(routing, cells), { passes, otherwise }, share);
    let open = 0;
    for (let cell = 0; cell < share.length; cell++) {
      const part = share[cell];
      if (part === 0) continue;
      if (part >= mostlyShare) reaches[cell] = 1;
      if (sheltered[cell] === 0) open += part;
    }
    let areaM2 = open * cellM2;
    for (const outlet of roofs.outlets) {
      let part = 0;
      for (const cell of outlet.cells) part += share[cell] / outlet.cells.length;
      areaM2 += outlet.areaM2 * part;
    }
    tallies.basinAreaM2[at] = areaM2;
    let deepest = cells[0];
    for (const cell of cells) if (z[cell] < z[deepest]) deepest = cell;
    const pool = pools.poolOfPit[catchment[deepest]];
    tallies.basinIsFull[at] = pool === -1 ? 0 : pools.full[pool];
  }
  const { toBasin } = tallies;
  for (let cell = 0; cell < toBasin.length; cell++) toBasin[cell] += reaches[cell];
}

/** Finds each low spot again: the full one of this surface that has most cells in common with it. */
function tallySpots(
  spots: readonly StudiedSpot[],
  terrain: BareTerrain,
  cellM2: number,
  tallies: Tallies,
  row: number,
): void {
  const { z, catchment, fillLevel, tree, volume, cellsBelow, workspace } = terrain;
  const common = workspace.int32('certainty common cells', tree.nodes).fill(0);
  spots.forEach((spot, i) => {
    let best = 0;
    for (const cell of spot.cells) {
      const pit = catchment[cell];
      if (!(z[cell] < fillLevel[pit])) continue;
      const root = tree.root[pit];
      common[root]++;
      if (best === 0 || common[root] > common[best]) best = root;
    }
    const at = row * tallies.of.spots + i;
    if (best !== 0) {
      const volumeM3 = volume[best] * cellM2;
      tallies.spotAreaM2[at] = cellsBelow[best] * cellM2;
      tallies.spotVolumeM3[at] = volumeM3;
      const isThere =
        common[best] >= sameSpotShare * spot.cells.length &&
        volumeM3 >= sameSpotShare * spot.volumeM3;
      tallies.spotIsThere[at] = isThere ? 1 : 0;
    }
    for (const cell of spot.cells) common[tree.root[catchment[cell]]] = 0;
  });
}
