import { cellsTouching, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';

/** Heights and where buildings stand on them. */
export interface OpenGround {
  readonly grid: Grid;
  readonly obstacle: Uint8Array;
}

/** How far an outlet drawn under a building is moved, cells. Our choice, no source. */
const mostMoveCells = 40;

/**
 * The cell at a point, or the nearest that is open ground and holds data; -1 when there is none or the point lies outside
 * the grid. Of the cells that it lies between, the lowest.
 */
export function openCellAt(ground: OpenGround, at: XY): number {
  const { z } = ground.grid;
  const touching = cellsTouching(ground.grid, at[0], at[1]);
  const open = touching.filter((cell) => isOpen(ground, cell));
  if (open.length > 0) return open.reduce((low, cell) => (z[cell] < z[low] ? cell : low));
  return touching.length === 0 ? -1 : openCellNear(ground, touching[0], mostMoveCells);
}

/** The nearest open cell in the smallest square ring around a cell that has any, -1 when none is within reach. */
export function openCellNear(ground: OpenGround, cell: number, reachCells: number): number {
  const { grid } = ground;
  if (isOpen(ground, cell)) return cell;
  const row = Math.floor(cell / grid.width);
  const column = cell - row * grid.width;
  for (let ring = 1; ring <= reachCells; ring++) {
    let best = -1;
    let bestSquared = Infinity;
    for (const [dx, dy] of squareRing(ring)) {
      const c = column + dx;
      const r = row + dy;
      if (c < 0 || r < 0 || c >= grid.width || r >= grid.height) continue;
      const index = r * grid.width + c;
      const squared = dx * dx + dy * dy;
      if (isOpen(ground, index) && squared < bestSquared) {
        best = index;
        bestSquared = squared;
      }
    }
    if (best !== -1) return best;
  }
  return -1;
}

function* squareRing(ring: number): Generator<[number, number]> {
  for (let along = -ring; along <= ring; along++) {
    yield [along, -ring];
    yield [along, ring];
    yield [-ring, along];
    yield [ring, along];
  }
}

function isOpen({ grid, obstacle }: OpenGround, cell: number): boolean {
  return obstacle[cell] === 0 && !Number.isNaN(grid.z[cell]);
}
