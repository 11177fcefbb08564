import type { Grid } from '../elevation/grid';
import { filmM } from '../drainage/answer/water-at-building';
import { homeLot } from '../plan/home-lot';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import type { Zone } from './trials';
import type { NearWall } from './near-wall';

/** Water that stands near a wall of an own building, in one low spot. */
export interface WetWall {
  readonly id: string;
  readonly building: LocalFeature<'building'>;
  readonly zone: Zone;
}

/** One water that stands near walls of the own lot's buildings. */
export interface Hollow {
  /** Named for where it is deepest, as low spots are. */
  readonly key: string;
  /** Its cells, wet in the event. */
  readonly cells: Int32Array<ArrayBuffer>;
  /** The lowest of them. */
  readonly pit: number;
  /** Level at which the water stands, in the unit of the grid. */
  readonly levelM: number;
  readonly walls: readonly WetWall[];
}

/** Less water than this near a wall is not worth a remedy, m3. Our choice, no source. */
const worthM3 = 0.02;
/** As near to a water as this its ground is its own: where it would stand were it a little moved, metres. Our choice, no source. */
const aroundM = 1;

/**
 * Each water that stands near a wall of a building on the own lot, with the walls that it is near to. Of a building
 * with two waters near it each is looked at apart, so that a remedy for one is not blamed for the other.
 *
 * @param depthM - standing water by cell.
 * @param near - of each building of the plan, in its order.
 */
export function hollowsAtWalls(
  grid: Grid,
  plan: LocalPlan,
  depthM: Float32Array,
  near: readonly NearWall[],
): Hollow[] {
  const own = plan.of.building.map(
    (building) => homeLot(plan, building.shape.rings[0])?.feature.properties.own === true,
  );
  const labels = new Int32Array(grid.z.length);
  const waters: number[][] = [];
  near.forEach(({ cells }, at) => {
    if (!own[at]) return;
    for (const cell of cells) {
      if (!(depthM[cell] > filmM) || labels[cell] !== 0) continue;
      waters.push(flood(grid, depthM, labels, cell, waters.length + 1));
    }
  });
  return waters.flatMap((cells): Hollow[] => {
    const pit = cells.reduce((low, cell) => (grid.z[cell] < grid.z[low] ? cell : low));
    const key = `low-${pit % grid.width}-${Math.floor(pit / grid.width)}`;
    const around = grown(grid, cells, Math.round(aroundM / grid.cellM));
    const walls = plan.of.building.flatMap((building, at): WetWall[] => {
      if (!own[at]) return [];
      const zone = new Set([...near[at].cells].filter((cell) => around.has(cell)));
      const wet = [...zone].reduce((sum, cell) => sum + Math.max(0, depthM[cell]), 0);
      if (wet * grid.cellM ** 2 < worthM3) return [];
      return [{ id: `wet-${building.id}-${key}`, building, zone: { building: at, cells: zone } }];
    });
    if (walls.length === 0) return [];
    return [{ key, cells: Int32Array.from(cells), pit, levelM: grid.z[pit] + depthM[pit], walls }];
  });
}

/** All wet cells joined to one, by edges and corners. */
function flood(
  grid: Grid,
  depthM: Float32Array,
  labels: Int32Array,
  from: number,
  label: number,
): number[] {
  const found = [from];
  labels[from] = label;
  for (const cell of found) {
    eachAround(grid, cell, 1, (next) => {
      if (labels[next] !== 0 || !(depthM[next] > filmM)) return;
      labels[next] = label;
      found.push(next);
    });
  }
  return found;
}

function grown(grid: Grid, cells: readonly number[], reach: number): ReadonlySet<number> {
  const found = new Set(cells);
  for (const cell of cells) eachAround(grid, cell, reach, (next) => found.add(next));
  return found;
}

/** Visits the cells around one, as far as so many rows and columns. */
export function eachAround(
  { width, height }: Pick<Grid, 'width' | 'height'>,
  cell: number,
  reach: number,
  visit: (cell: number) => unknown,
): void {
  const row = Math.floor(cell / width);
  const column = cell - row * width;
  for (let r = Math.max(0, row - reach); r <= Math.min(height - 1, row + reach); r++) {
    for (let c = Math.max(0, column - reach); c <= Math.min(width - 1, column + reach); c++) {
      visit(r * width + c);
    }
  }
}
