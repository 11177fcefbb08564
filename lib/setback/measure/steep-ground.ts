import { cellAt, cellCentre, type Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { distanceMap, type DistanceMap } from './distance-map';
import { steepnessOf } from './steepness';
import type { Outline } from './outline';

/** Steep ground nearest to a basin. */
export interface NearestSteep {
  /** Distance in metres, good to a cell: steepness is a property of ground a few metres wide. */
  readonly distanceM: number;
  readonly from: XY;
  readonly to: XY;
  /** Distance to the nearest ground whose steepness is not known, for want of data or beyond their edge. */
  readonly unknownM: number;
}

const maps = new WeakMap<Grid, Map<number | 'unknown', DistanceMap>>();

/** Distances to ground steeper than a limit, kept for as long as the grid is. Cost: linear in cells, once. */
export function steepGroundMap(grid: Grid, steeperThan: number): DistanceMap {
  return mapOf(grid, steeperThan, (slope) => slope > steeperThan);
}

/** Distances to ground whose steepness is not known. */
function unknownGroundMap(grid: Grid): DistanceMap {
  return mapOf(grid, 'unknown', Number.isNaN);
}

function mapOf(
  grid: Grid,
  key: number | 'unknown',
  isMarked: (slope: number) => boolean,
): DistanceMap {
  let ofGrid = maps.get(grid);
  if (ofGrid === undefined) {
    ofGrid = new Map();
    maps.set(grid, ofGrid);
  }
  let map = ofGrid.get(key);
  if (map === undefined) {
    const { ratio } = steepnessOf(grid);
    const marked = Uint8Array.from(ratio, (slope) => (isMarked(slope) ? 1 : 0));
    map = distanceMap(marked, grid.width, grid.height);
    ofGrid.set(key, map);
  }
  return map;
}

/**
 * Where ground steeper than a limit is nearest to a basin's rim.
 * @returns `null` when no vertex of the rim lies on the grid; a distance of `Infinity` when no ground is that steep.
 */
export function nearestSteep(grid: Grid, rim: Outline, steeperThan: number): NearestSteep | null {
  const map = steepGroundMap(grid, steeperThan);
  const unknown = unknownGroundMap(grid);
  let best: Omit<NearestSteep, 'unknownM'> | null = null;
  let unknownM = Infinity;
  for (let v = 0; v < rim.vertices.length; v += 2) {
    const from: XY = [rim.vertices[v], rim.vertices[v + 1]];
    const cell = cellAt(grid, from[0], from[1]);
    unknownM = Math.min(unknownM, cell < 0 ? 0 : unknown.cells[cell] * grid.cellM);
    if (cell < 0) continue;
    const distanceM = map.cells[cell] * grid.cellM;
    if (best !== null && distanceM >= best.distanceM) continue;
    best = {
      distanceM,
      from,
      to: map.nearest[cell] < 0 ? from : cellCentre(grid, map.nearest[cell]),
    };
  }
  return best === null ? null : { ...best, unknownM };
}
