import { cellAt, cellCentre } from '../../elevation/grid';
import type { Frame, XY } from '../../frame/frame';
import { distanceM, nearestEdges, type Ring } from '../../frame/shapes';
import type { Ground } from '../../ground/ground';
import { cellsAround } from '../../ground/rasterise';
import type { LocalFeature } from '../../plan/local-plan';
import type { WaterAtBuilding } from './drainage-result';
import { featureName } from '../../plan/feature-name';

/** How far from a wall standing water is looked for: 10 ft, over which ground is to fall away (International Residential Code, R401.3). */
export const nearWallM = 3.048;
/** Thinner water is a wet surface, not standing water. Our choice, no source. */
export const filmM = 0.005;

/**
 * Standing water near a building's walls.
 *
 * @param depthM - standing water by cell of the ground's grid.
 * Cost: cells within reach times edges of the outline.
 */
export function waterAtBuilding(
  ground: Ground,
  building: LocalFeature<'building'>,
  depthM: Float32Array,
  frame: Frame,
): WaterAtBuilding {
  const { grid } = ground;
  const cellM2 = grid.cellM * grid.cellM;
  let deepest = -1;
  let cells = 0;
  let depthSum = 0;
  let nearestM = Infinity;
  for (const cell of cellsAround(grid, building.shape.rings[0], nearWallM)) {
    if (!(depthM[cell] > filmM) || ground.obstacle[cell] === 1) continue;
    const away = nearestEdges(
      { type: 'point', at: cellCentre(grid, cell) },
      building.shape,
    ).distanceM;
    if (away > nearWallM) continue;
    cells++;
    depthSum += depthM[cell];
    // From the wall to the near side of the cell.
    nearestM = Math.min(nearestM, Math.max(0, away - grid.cellM / 2));
    if (deepest === -1 || depthM[cell] > depthM[deepest]) deepest = cell;
  }
  return {
    building: building.id,
    name: featureName(building.feature),
    depth_m: deepest === -1 ? 0 : depthM[deepest],
    area_m2: cells * cellM2,
    volume_m3: depthSum * cellM2,
    distance_m: deepest === -1 ? null : nearestM,
    wall_m: wetWallM(ground, building.shape.rings[0], (cell) => depthM[cell] > filmM),
    at: deepest === -1 ? null : frame.toLngLat(cellCentre(grid, deepest)),
  };
}

/** So far off a wall lies the first cell that is not the building's, wherever between rows of cells the wall runs. */
export const offWallCells = 0.75;

/** A wall of whole pieces has no more of them for coming back from degrees a little longer. */
export const roundingPieces = 1e-3;

/** Length of outline with standing water in the first open cell off it, metres. */
export function wetWallM(ground: Ground, outline: Ring, isWet: (cell: number) => boolean): number {
  const { grid } = ground;
  let wet = 0;
  for (let i = 0; i < outline.length; i++) {
    const from = outline[i];
    const to = outline[(i + 1) % outline.length];
    const length = distanceM(from, to);
    const pieces = Math.ceil(length / (grid.cellM / 2) - roundingPieces);
    const offM = offWallCells * grid.cellM;
    const off: XY = [((to[1] - from[1]) / length) * offM, ((from[0] - to[0]) / length) * offM];
    for (let piece = 0; piece < pieces; piece++) {
      const t = (piece + 0.5) / pieces;
      const x = from[0] + t * (to[0] - from[0]);
      const y = from[1] + t * (to[1] - from[1]);
      const touches = [1, -1].some((side) => {
        const cell = cellAt(grid, x + side * off[0], y + side * off[1]);
        return cell !== -1 && ground.obstacle[cell] === 0 && isWet(cell);
      });
      if (touches) wet += length / pieces;
    }
  }
  return wet;
}
