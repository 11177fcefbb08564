import type { Grid } from '../../elevation/grid';
import type { ResultRaster } from '../answer/result-rasters';
import type { Tallies } from './certainty-tallies';

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
