import type { Grid } from '../elevation/grid';
import type { LocalPlan } from '../plan/local-plan';
import { cutBasin, type BasinForm } from './basin-form';
import { cellsAlong, cellsInside } from './rasterise';

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
  readonly lotOf: Int16Array<ArrayBuffer>;
  /** For each cell 1 where a building or a roof keeps rain from the ground, else 0. */
  readonly sheltered: Uint8Array<ArrayBuffer>;
  /** For each cell 1 where a building stands and no water runs, else 0. */
  readonly obstacle: Uint8Array<ArrayBuffer>;
  readonly basins: readonly BasinForm[];
}

/** How far a building's cells are raised over the highest ground below it, metres: more than any water stands. */
const buildingM = 10;
/** Heights used where the plan gives none. Common practice, no source. */
export const defaultHeightM = { wall: 1, kerb: 0.15 } as const;
/** Depth and side slope of a basin where the plan gives none. Common practice, no source. */
export const basinDefaults = { pondingDepthM: 0.15, sideSlope: 3 } as const;

/**
 * Makes the ground from elevation and plan. Pure: the same two give the same ground, and leaving a feature
 * out of the plan takes its mark off again, so before and after are two calls.
 *
 * @param elevation - heights as read; not modified.
 * @param plan - in the same local frame as the grid.
 * Limits: public elevation shows bare earth with buildings taken off and smoothed over; kerbs may already
 *   be in it, and setting them up again makes them higher than they are.
 */
export function ground(elevation: Grid, plan: LocalPlan): Ground {
  const z = elevation.z.slice();
  const sheltered = new Uint8Array(z.length);
  const obstacle = new Uint8Array(z.length);

  for (const building of plan.of.building) {
    raise(elevation, z, obstacle, cellsInside(elevation, building.shape.rings));
  }
  for (const kind of ['wall', 'kerb'] as const) {
    for (const line of plan.of[kind]) {
      const heightM = line.feature.properties.height_m ?? defaultHeightM[kind];
      for (const cell of cellsAlong(elevation, line.shape.points)) {
        z[cell] = Math.max(z[cell], elevation.z[cell] + heightM);
      }
    }
  }
  sheltered.set(obstacle);
  for (const roof of plan.of.roof) {
    for (const cell of cellsInside(elevation, roof.shape.rings)) sheltered[cell] = 1;
  }

  const basins: BasinForm[] = [];
  for (const basin of plan.of.basin) {
    const { ponding_depth_m, side_slope } = basin.feature.properties;
    const form = cutBasin(elevation, z, {
      id: basin.id,
      rim: basin.shape.rings[0],
      pondingDepthM: ponding_depth_m ?? basinDefaults.pondingDepthM,
      sideSlope: side_slope ?? basinDefaults.sideSlope,
      ...(basin.overflow === undefined ? {} : { overflow: basin.overflow }),
    });
    if (form !== null) basins.push(form);
  }

  const lotOf = new Int16Array(z.length).fill(-1);
  const lots = plan.of.lot.map((lot, index): LotCells => {
    // Where outlines overlap, the lot that comes first in the plan keeps the cell.
    const cells = cellsInside(elevation, lot.shape.rings).filter((cell) => lotOf[cell] === -1);
    for (const cell of cells) lotOf[cell] = index;
    return {
      id: lot.id,
      name: lot.feature.properties.name ?? lot.id,
      own: lot.feature.properties.own,
      cells,
    };
  });

  return { grid: { ...elevation, z }, lots, lotOf, sheltered, obstacle, basins };
}

/** A flat top well above the ground, so that nothing pools in it and everything passes round it. */
function raise(elevation: Grid, z: Float32Array, obstacle: Uint8Array, cells: Int32Array): void {
  let highest = 1;
  for (const cell of cells) if (elevation.z[cell] > highest) highest = elevation.z[cell];
  for (const cell of cells) {
    z[cell] = highest + buildingM;
    obstacle[cell] = 1;
  }
}
