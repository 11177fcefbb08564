import { cellCentre } from '../elevation/grid';
import { filmM, nearWallM, wetWallM } from '../drainage/answer/water-at-building';
import { nearestEdges } from '../frame/shapes';
import type { Ground } from '../ground/ground';
import { cellsAround } from '../ground/rasterise';
import type { LocalFeature } from '../plan/local-plan';

/** What stands near a building: the figures of `waterAtBuilding`. */
interface Near {
  readonly volumeM3: number;
  readonly depthM: number;
  readonly wallM: number;
}

/** The ground near a building's walls. */
export interface NearWall {
  /** Open cells within reach of the walls. */
  readonly cells: Int32Array<ArrayBuffer>;
  /**
   * Water on them.
   *
   * @param within - looks at these cells alone, of those near the walls.
   */
  readonly water: (on: Ground, depthM: Float32Array, within?: ReadonlySet<number>) => Near;
}

/** Finds the ground within 3.05 m of a building's walls once, for many storms. */
export function nearWall(on: Ground, building: LocalFeature<'building'>): NearWall {
  const { grid, obstacle } = on;
  const outline = building.shape.rings[0];
  const found: number[] = [];
  for (const cell of cellsAround(grid, outline, nearWallM)) {
    if (obstacle[cell] === 1) continue;
    const at = { type: 'point', at: cellCentre(grid, cell) } as const;
    if (nearestEdges(at, building.shape).distanceM <= nearWallM) found.push(cell);
  }
  const cells = Int32Array.from(found);
  return {
    cells,
    water(ground, depthM, within) {
      let sum = 0;
      let deepest = 0;
      for (const cell of cells) {
        const depth = depthM[cell];
        if (!(depth > filmM) || within?.has(cell) === false) continue;
        sum += depth;
        if (depth > deepest) deepest = depth;
      }
      return {
        volumeM3: sum * grid.cellM * grid.cellM,
        depthM: deepest,
        wallM:
          deepest === 0
            ? 0
            : wetWallM(
                ground,
                outline,
                (cell) => depthM[cell] > filmM && within?.has(cell) !== false,
              ),
      };
    },
  };
}
