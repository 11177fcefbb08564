import { inCells, type CellPlaces } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { boundsOf, type Ring, type Rings } from '../frame/shapes';

/**
 * Cells whose centre lies inside a polygon (even-odd over all rings, so holes are left out).
 *
 * @param rings - in local metres.
 * @returns cell indices in ascending order; a centre on a western edge is inside, on an eastern one outside,
 *   so polygons that share an edge share no cell.
 * Cost: rows of the bounding box times edges.
 */
export function cellsInside(grid: CellPlaces, rings: Rings): Int32Array<ArrayBuffer> {
  const drawn = rings.map((ring) => ring.map(([x, y]): XY => inCells(grid, x, y)));
  let top = Infinity;
  let bottom = -Infinity;
  let edges = 0;
  for (const ring of drawn) {
    edges += ring.length;
    for (const [, row] of ring) {
      if (row < top) top = row;
      if (row > bottom) bottom = row;
    }
  }
  const firstRow = Math.max(0, Math.floor(top));
  const lastRow = Math.min(grid.height - 1, Math.floor(bottom));
  const crossings = new Float64Array(edges);
  const found: number[] = [];
  for (let row = firstRow; row <= lastRow; row++) {
    const count = crossRow(drawn, row + 0.5, crossings);
    crossings.subarray(0, count).sort();
    for (let pair = 0; pair + 1 < count; pair += 2) {
      const from = Math.ceil(crossings[pair] - 0.5);
      const to = Math.ceil(crossings[pair + 1] - 0.5);
      for (let column = Math.max(0, from); column < Math.min(grid.width, to); column++) {
        found.push(row * grid.width + column);
      }
    }
  }
  return Int32Array.from(found);
}

/** Where rings in columns and rows cross the middle of a row; each edge counts its lower end but not its upper one. */
function crossRow(rings: Rings, at: number, out: Float64Array): number {
  let count = 0;
  for (const ring of rings) {
    for (let i = 0, before = ring.length - 1; i < ring.length; before = i++) {
      const [column0, row0] = ring[before];
      const [column1, row1] = ring[i];
      if (row0 >= at === row1 >= at) continue;
      out[count++] = column0 + ((at - row0) / (row1 - row0)) * (column1 - column0);
    }
  }
  return count;
}

/** Cells in the bounding box of a ring, grown by a margin. */
export function* cellsAround(grid: CellPlaces, ring: Ring, marginM: number): Generator<number> {
  const { west, south, east, north } = boundsOf(ring);
  const column = (x: number) => Math.floor((x - grid.westM) / grid.cellM);
  const row = (y: number) => Math.floor((grid.northM - y) / grid.cellM);
  const lastColumn = Math.min(grid.width - 1, column(east + marginM));
  const lastRow = Math.min(grid.height - 1, row(south - marginM));
  for (let r = Math.max(0, row(north + marginM)); r <= lastRow; r++) {
    for (let c = Math.max(0, column(west - marginM)); c <= lastColumn; c++)
      yield r * grid.width + c;
  }
}

/**
 * Cells that a line runs through, each joined to the next by an edge: water that moves to any of eight
 * neighbours cannot slip through a barrier made of them.
 *
 * @param line - points in local metres.
 * @param bothSides - whether a line that runs between cells, or through a corner of them, takes those on both its
 *   sides, so that a mirrored copy takes the mirrored cells; else it takes the eastern or southern ones.
 * @returns cell indices in the order of the line, repeats left out.
 */
export function cellsAlong(
  grid: CellPlaces,
  line: readonly XY[],
  { bothSides = false } = {},
): Int32Array<ArrayBuffer> {
  const found = new Set<number>();
  const visit = (column: number, row: number): void => {
    if (column < 0 || row < 0 || column >= grid.width || row >= grid.height) return;
    found.add(row * grid.width + column);
  };
  for (let i = 1; i < line.length; i++) {
    walk(inCells(grid, ...line[i - 1]), inCells(grid, ...line[i]), bothSides, visit);
  }
  return Int32Array.from(found);
}

/** Grid traversal, in columns and rows, that steps over one cell edge at a time (Amanatides and Woo 1987, from memory). */
function walk(
  [x0, y0]: XY,
  [x1, y1]: XY,
  bothSides: boolean,
  visit: (column: number, row: number) => void,
): void {
  const stepX = Math.sign(x1 - x0);
  const stepY = Math.sign(y1 - y0);
  const perX = stepX === 0 ? Infinity : 1 / Math.abs(x1 - x0);
  const perY = stepY === 0 ? Infinity : 1 / Math.abs(y1 - y0);
  // A line that ends between two cells does not reach into the one beyond, if both its sides are to be alike.
  const cellOf = (at: number, ahead: number): number =>
    bothSides && ahead < 0 ? Math.ceil(at) - 1 : Math.floor(at);
  let column = cellOf(x0, stepX);
  let row = cellOf(y0, stepY);
  let nextX = stepX > 0 ? (column + 1 - x0) * perX : stepX < 0 ? (x0 - column) * perX : Infinity;
  let nextY = stepY > 0 ? (row + 1 - y0) * perY : stepY < 0 ? (y0 - row) * perY : Infinity;
  let steps = Math.abs(cellOf(x1, -stepX) - column) + Math.abs(cellOf(y1, -stepY) - row);
  const isBetweenColumns = bothSides && stepX === 0 && Number.isInteger(x0);
  const isBetweenRows = bothSides && stepY === 0 && Number.isInteger(y0);
  for (;;) {
    visit(column, row);
    if (isBetweenColumns) visit(column - 1, row);
    if (isBetweenRows) visit(column, row - 1);
    if (steps-- <= 0) return;
    if (bothSides && nextX === nextY) visit(column, row + stepY);
    // A line through a corner takes the column step first: still edge by edge.
    if (nextX <= nextY) {
      column += stepX;
      nextX += perX;
    } else {
      row += stepY;
      nextY += perY;
    }
  }
}
