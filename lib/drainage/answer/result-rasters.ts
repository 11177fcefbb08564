import type { Grid } from '../../elevation/grid';
import { openArea } from './contributing-area';
import type { ShapedGround } from '../storm/shaped-ground';
import { spreadFlow } from '../terrain/spread-flow';
import type { StormOnGround } from '../storm/storm-on-ground';

/** One raster of the answer, for other programs to open. */
export interface ResultRaster {
  /** File name without its ending. */
  readonly name: string;
  readonly description: string;
  readonly unit: string;
  readonly heights: boolean;
  /** Values in `z` over `datumM`, on the ground's cells. */
  readonly grid: Grid;
}

/** The ground, the ground with its low spots filled, standing water, and what drains through each cell. */
export function resultRasters(shape: ShapedGround, storm: StormOnGround): ResultRaster[] {
  const { ground, terrain, routing } = shape;
  const { grid } = ground;
  const weights = openArea(shape, storm);
  const drainsM2 = Float32Array.from(spreadFlow(routing, weights, weights), (area, cell) =>
    Number.isNaN(grid.z[cell]) ? Number.NaN : area,
  );
  const depth = storm.depthM.map((value, cell) =>
    Number.isNaN(grid.z[cell]) ? Number.NaN : value,
  );
  const plain = (z: Float32Array): Grid => ({ ...grid, z, datumM: 0 });
  return [
    {
      name: 'ground',
      description: 'Elevation of the ground with buildings raised, walls set up and basins cut in',
      unit: 'metre',
      heights: true,
      grid,
    },
    {
      name: 'filled-surface',
      description: 'Elevation of the ground with every low spot filled to its brim',
      unit: 'metre',
      heights: true,
      grid: { ...grid, z: terrain.filled },
    },
    {
      name: 'standing-water',
      description: `Depth of standing water after ${storm.rainMm} mm of rain`,
      unit: 'metre',
      heights: false,
      grid: plain(depth),
    },
    {
      name: 'contributing-area',
      description: 'Open ground and roofs that drain through each cell, by multiple flow',
      unit: 'square metre',
      heights: false,
      grid: plain(drainsM2),
    },
  ];
}
