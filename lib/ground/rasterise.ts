import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { boundsOf, type Ring, type Rings } from '../frame/shapes';

type Window = Pick<Grid, 'width' | 'height' | 'cellM' | 'westM' | 'northM'>;

/**
 * Cells whose centre lies inside a polygon (even-odd over all rings, so holes are left out).
 *
 * @param rings - in local metres.
 * @returns cell indices in ascending order; a centre on a western edge is inside, on an eastern one outside,
 *   so polygons that share an edge share no cell.
 * Cost: rows of the bounding box times edges.
 */
export function cellsInside(grid: Window, rings: Rings): Int32Array<ArrayBuffer> {
  let south = Infinity;
  let north = -Infinity;
  let edges = 0;
  for (const ring of rings) {
    edges += ring.length;
    for (const [, y] of ring) {
      if (y < south) south = y;
      if (y > north) north = y;
    }
  }
  const firstRow = Math.max(0, Math.floor((grid.northM - north) / grid.cellM));
  const lastRow = Math.min(grid.height - 1, Math.floor((grid.northM - south) / grid.cellM));
  const crossings = new Float64Array(edges);
  const found: number[] = [];
  for (let row = firstRow; row <= lastRow; row++) {
    const y = grid.northM - (row + 0.5) * grid.cellM;
    const count = crossRow(rings, y, crossings);
    crossings.subarray(0, count).sort();
    for (let pair = 0; pair + 1 < count; pair += 2) {
      const from = Math.ceil((crossings[pair] - grid.westM) / grid.cellM - 0.5);
      const to = Math.ceil((crossings[pair + 1] - grid.westM) / grid.cellM - 0.5);
      for (let column = Math.max(0, from); column < Math.min(grid.width, to); column++) {
        found.push(row * grid.width + column);
      }
    }
  }
  return Int32Array.from(found);
}

/** Where the rings cross a horizontal line, as x; each edge counts its lower end but not its upper one. */
function crossRow(rings: Rings, y: number, out: Float64Array): number {
  let count = 0;
  for (const ring of rings) {
    for (let i = 0, before = ring.length - 1; i < ring.length; before = i++) {
      const [x0, y0] = ring[before];
      const [x1, y1] = ring[i];
      if (y0 <= y !== y1 <= y) out[count++] = x0 + ((y - y0) / (y1 - y0)) * (x1 - x0);
    }
  }
  return count;
}

/** Cells in the bounding box of a ring, grown by a margin. */
export function* cellsAround(grid: Window, ring: Ring, marginM: number): Generator<number> {
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
 * @returns cell indices in the order of the line, repeats left out.
 */
export function cellsAlong(grid: Window, line: readonly XY[]): Int32Array<ArrayBuffer> {
  const found = new Set<number>();
  for (let i = 1; i < line.length; i++) {
    walk(grid, line[i - 1], line[i], (index) => found.add(index));
  }
  return Int32Array.from(found);
}

/** Grid traversal that steps over one cell edge at a time (Amanatides and Woo 1987, from memory). */
function walk(grid: Window, from: XY, to: XY, visit: (index: number) => void): void {
  const x0 = (from[0] - grid.westM) / grid.cellM;
  const y0 = (grid.northM - from[1]) / grid.cellM;
  const x1 = (to[0] - grid.westM) / grid.cellM;
  const y1 = (grid.northM - to[1]) / grid.cellM;
  let column = Math.floor(x0);
  let row = Math.floor(y0);
  const lastColumn = Math.floor(x1);
  const lastRow = Math.floor(y1);
  const stepX = Math.sign(x1 - x0);
  const stepY = Math.sign(y1 - y0);
  const perX = stepX === 0 ? Infinity : 1 / Math.abs(x1 - x0);
  const perY = stepY === 0 ? Infinity : 1 / Math.abs(y1 - y0);
  let nextX = stepX > 0 ? (column + 1 - x0) * perX : stepX < 0 ? (x0 - column) * perX : Infinity;
  let nextY = stepY > 0 ? (row + 1 - y0) * perY : stepY < 0 ? (y0 - row) * perY : Infinity;
  let steps = Math.abs(lastColumn - column) + Math.abs(lastRow - row);
  for (;;) {
    if (column >= 0 && row >= 0 && column < grid.width && row < grid.height) {
      visit(row * grid.width + column);
    }
    if (steps-- <= 0) return;
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
