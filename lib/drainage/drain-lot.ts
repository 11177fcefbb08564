import { accumulate } from './accumulate';
import { cellAt, cellCentre, type Grid } from '../elevation/grid';
import type { LngLat } from '../frame/frame';
import type { BasinForm } from '../ground/basin-form';
import type { Conduit } from '../ground/conduits';
import type { LocalPlan } from '../plan/local-plan';
import { buildingRow } from './building-row';
import { contributingArea, openArea, patchesOf, toMultiPolygon } from './contributing-area';
import type {
  BasinRow,
  ConduitRow,
  Contributing,
  DrainageResult,
  LowSpotRow,
  StandingRow,
} from './drainage-result';
import { ledger } from './ledger';
import { lotExchange } from './lot-exchange';
import { lowSpots, type LowSpot } from './low-spots';
import { pathFrom } from './path-from';
import type { ShapedGround } from './shaped-ground';
import { spillOrder } from './spill-order';
import { standingRows } from './standing-rows';
import type { StormOnGround } from './storm-on-ground';

/** Low spots shallower or smaller than these are the roughness of a lawn and are not listed. A choice, no source. */
export const listedLowSpot = { minDepthM: 0.03, minAreaM2: 1.5 } as const;

/**
 * A low spot is doubtful when its depth is under 2 sqrt(2) times the short-range error of the elevation: the
 * difference of two heights with that error reaches it once in about twenty. The short-range part is taken as half
 * the stated error, since most of it is shared by all heights of a lot (a judgement; no source for lidar was found).
 * A quick screen, on the careful side: on the demo lot it marks those that `certainty.ts` finds as likely as not.
 */
function doubtfulBelowM(rmseM: number): number {
  return 2 * Math.SQRT2 * (rmseM / 2);
}

/** Everything one storm on one ground has to say, as `lotfall drainage --json` prints it. */
export function drainLot(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  about: {
    /** Name of the elevation's coordinate system. */
    readonly crs: string;
    /** Stated vertical error of the elevation, metres. */
    readonly rmseM: number;
    /** Also find the rain at which each low spot begins to spill. */
    readonly order?: boolean;
    /** Notes on the elevation, to stand before those on the storm. */
    readonly notes?: readonly string[];
  },
): DrainageResult {
  const { ground, terrain, cellM2 } = shape;
  const { grid } = ground;
  const spots = lowSpots(terrain, { cellAreaM2: cellM2, ...listedLowSpot });
  const rows = spots.map((spot) => lowSpotRow(shape, plan, spot, about.rmseM));
  const ownLot = ground.lots.findIndex((lot) => lot.own);

  const weights = openArea(shape, storm);
  const drainsM2 = accumulate(shape.routing.directions, grid.width, weights, weights);

  const standing = standingRows(shape, storm, spots, rows);
  const contributing: Contributing[] = [];
  const ask = (feature: string, cells: Int32Array): void => {
    if (cells.length > 0) contributing.push(contributingArea(shape, storm, plan, cells, feature));
  };
  for (const lot of ground.lots) if (lot.own) ask(lot.id, lot.cells);
  for (const basin of ground.basins) ask(basin.id, basin.cells);
  spots.forEach((spot, i) => {
    if (rows[i].lot !== null && rows[i].lot === ground.lots[ownLot]?.id)
      ask(rows[i].id, spot.cells);
  });

  return {
    grid: { width: grid.width, height: grid.height, cell_m: grid.cellM, crs: about.crs },
    rain_mm: storm.rainMm,
    low_spots: rows,
    standing: about.order === true ? inOrder(standing, shape, storm, plan, spots, rows) : standing,
    buildings: plan.of.building.map((building) =>
      buildingRow(shape, storm, plan, building, drainsM2),
    ),
    exchange: lotExchange(shape, storm, plan),
    basins: ground.basins.map((basin) => basinRow(shape, storm, plan, basin)),
    edits: ground.edits.map(({ id, kind, cutM3, fillM3, notes }) => ({
      id,
      kind,
      cut_m3: cutM3,
      fill_m3: fillM3,
      notes,
    })),
    conduits: storm.conduits.map(({ conduit, volumeM3 }) =>
      conduitRow(grid, plan, conduit, volumeM3),
    ),
    ledger: ownLot === -1 ? null : ledger(shape, storm, plan, ownLot),
    contributing,
    notes: [
      ...(about.notes ?? []),
      ...ground.edits.flatMap((edit) => edit.notes.map((note) => `${edit.id}: ${note}`)),
      ...storm.surfaces.notes,
      ...storm.roofs.notes,
      ...storm.notes,
    ],
  };
}

function conduitRow(grid: Grid, plan: LocalPlan, conduit: Conduit, carriedM3: number): ConduitRow {
  const { id, outlet, capacityM3PerS, blocked } = conduit;
  return {
    id,
    to: typeof outlet === 'number' ? lngLatOf(grid, plan, outlet) : outlet,
    capacity_m3_per_h: capacityM3PerS * 3600,
    carried_m3: carriedM3,
    blocked,
  };
}

/** The rows with the rain at which each begins to spill. */
function inOrder(
  standing: readonly StandingRow[],
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  spots: readonly LowSpot[],
  rows: readonly LowSpotRow[],
): StandingRow[] {
  const order = spillOrder(shape, plan, spots, storm.rainMm);
  return standing.map((row) => ({
    ...row,
    spills_from_mm: order[rows.findIndex(({ id }) => id === row.id)],
  }));
}

function lowSpotRow(
  { ground }: ShapedGround,
  plan: LocalPlan,
  spot: LowSpot,
  rmseM: number,
): LowSpotRow {
  const { grid, lotOf, lots } = ground;
  const mask = new Uint8Array(grid.z.length);
  for (const cell of spot.cells) mask[cell] = 1;
  const lot = lotOf[spot.pitCell];
  return {
    id: lowSpotId(grid, spot),
    area_m2: spot.areaM2,
    depth_m: spot.depthM,
    volume_m3: spot.volumeM3,
    deepest: lngLatOf(grid, plan, spot.pitCell),
    spill: lngLatOf(grid, plan, spot.spillCell),
    lot: lot === -1 ? null : lots[lot].id,
    doubtful: spot.depthM < doubtfulBelowM(rmseM),
    outline: toMultiPolygon(patchesOf(grid, mask), plan.frame),
  };
}

function basinRow(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  basin: BasinForm,
): BasinRow {
  const { ground, terrain, routing, cellM2 } = shape;
  const { grid } = ground;
  const path = pathFrom(routing, grid, plan.frame, cellAt(grid, ...basin.overflowAt));
  let holds = 0;
  let standing = 0;
  for (const cell of basin.cells) {
    holds += terrain.filled[cell] - terrain.z[cell];
    standing += storm.depthM[cell];
  }
  const { datumM } = grid;
  return {
    id: basin.id,
    area_m2: basin.cells.length * cellM2,
    holds_m3: holds * cellM2,
    standing_m3: standing * cellM2,
    rim_m: datumM + basin.rimM,
    overflow_m: datumM + basin.overflowM,
    floor_m: datumM + basin.floorM,
    overflow_at: plan.frame.toLngLat(basin.overflowAt),
    overflow_path: path,
    overflow_reaches: firstNeighbour(shape, plan, path),
    cut_m3: basin.cutM3,
    fill_m3: basin.fillM3,
  };
}

/** Id of the first lot of another owner on a path; null when the path meets none. */
function firstNeighbour(
  { ground }: ShapedGround,
  plan: LocalPlan,
  path: readonly LngLat[],
): string | null {
  for (const place of path) {
    const cell = cellAt(ground.grid, ...plan.frame.toLocal(place));
    const lot = cell === -1 ? -1 : ground.lotOf[cell];
    if (lot !== -1 && !ground.lots[lot].own) return ground.lots[lot].id;
  }
  return null;
}

/** Named for where it lies, so that it keeps its name while the ground elsewhere changes. */
export function lowSpotId(grid: Grid, spot: LowSpot): string {
  const row = Math.floor(spot.pitCell / grid.width);
  return `low-${spot.pitCell - row * grid.width}-${row}`;
}

function lngLatOf(grid: Grid, plan: LocalPlan, cell: number): LngLat {
  return plan.frame.toLngLat(cellCentre(grid, cell));
}
