import type { Grid } from '../elevation/grid';
import type { Tallies } from './certainty-tallies';
import { openArea } from './contributing-area';
import type { ShapedGround } from './shaped-ground';
import { spreadFlow } from './spread-flow';
import type { StormOnGround } from './storm-on-ground';

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

/** How likely water stands on each cell, and how likely a cell's water reaches a basin where the plan has one. */
export function certaintyRasters(grid: Grid, tallies: Tallies): ResultRaster[] {
  const surfaces = tallies.indices.length;
  const share = (counts: Uint16Array): Grid => ({
    ...grid,
    datumM: 0,
    z: Float32Array.from(counts, (count, cell) =>
      Number.isNaN(grid.z[cell]) ? Number.NaN : count / surfaces,
    ),
  });
  const water: ResultRaster = {
    name: 'probability-standing-water',
    description: `Share of ${surfaces} equally likely surfaces on which water stands`,
    unit: 'unity',
    heights: false,
    grid: share(tallies.wet),
  };
  if (tallies.of.basins === 0) return [water];
  return [
    water,
    {
      name: 'probability-drains-to-basin',
      description: `Share of ${surfaces} equally likely surfaces on which a cell's water reaches a basin`,
      unit: 'unity',
      heights: false,
      grid: share(tallies.toBasin),
    },
  ];
}
